/** Cautions as they stand in `cautions.md` and in the fitting sheet: a title in bold, text, and where it is from. */
import { type Section, toText } from './prose.ts';

/** Begins the last paragraph in every language; the pages say it in their own words. */
const SOURCE = 'Source:';

export interface Caution {
  readonly id: string;
  readonly title: string;
  readonly text: string;
  readonly source: string | null;
}

export function readCaution({ name, source }: Section): Caution {
  const paragraphs = toText(source).split('\n\n');
  const from = paragraphs.find((paragraph) => paragraph.startsWith(SOURCE));
  const [title = '', ...text] = paragraphs.filter((paragraph) => paragraph !== from);
  return { id: name, title, text: text.join('\n\n'), source: from?.slice(SOURCE.length).trim() ?? null };
}
