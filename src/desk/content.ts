/** Words, pages and letters as the page holds them. */

import { there } from '../base/there.ts';
import { type Content, makeContent } from '../report/words/content.ts';
import { DATA } from './data.ts';

const known = new Map<string, Content>();

export function contentOf(language: string): Content {
  const made = known.get(language);
  if (made) return made;
  const content = makeContent(language, {
    words: DATA.words.map(({ texts, words }) => ({
      name: 'content',
      text: (path) => texts[path],
      words: (path) => words[path] && new Map(Object.entries(words[path])),
    })),
    templates: DATA.templates.map((texts) => ({ name: 'templates', text: (path) => texts[path] })),
    font: (file) => there(DATA.fonts[file]),
  });
  known.set(language, content);
  return content;
}
