/** Every check with its question, needs, limits and their sources: for the command line, and as a page. */
import type { Check } from '../../checks/check.ts';
import { CHECKS } from '../../checks/registry.ts';
import type { Content } from '../words/content.ts';
import { makeFormat } from '../words/format.ts';
import { part, readSections, toText } from '../words/prose.ts';
import { contentPolicy } from './explore.ts';
import { styleOf } from './page.ts';
import { pageTemplate } from './template.ts';

const FILE = 'check-list.md';

export interface ListedCheck {
  readonly check: string;
  /** In the language's words. */
  readonly name: string;
  readonly question: string;
  readonly needs: Check['needs'];
  readonly limits: readonly {
    readonly key: string;
    /** In the unit named, SI. */
    readonly value: number;
    readonly unit: string;
    readonly applies: string | null;
    readonly source: string;
    /** For people: 50 mA, 1 h. */
    readonly text: string;
  }[];
}

/** In report order. */
export function checkList(content: Content): ListedCheck[] {
  const format = makeFormat(content.locale, { offsetMs: () => 0 }, content.label('unknown'));
  return CHECKS.map(({ id, needs, limits }) => {
    const path = `checks/${id}.md`;
    const { name, source } = readSections(path, content.text(path));
    return {
      check: id,
      name,
      question: toText(source),
      needs,
      limits: limits.map((limit) => ({
        key: limit.key,
        value: limit.value,
        unit: limit.unit,
        applies: limit.applies === undefined ? null : content.phrase('applies', limit.applies),
        source: content.phrase('source', limit.source),
        text: format.limit(limit.value, limit.unit),
      })),
    };
  });
}

/** The list as a page that is whole in itself; written into an archive it says what each report there was judged by. */
export function renderCheckList(content: Content, pageSize: 'a4' | 'letter'): string {
  const words = readSections(FILE, content.text(FILE));
  const said = (name: string) => toText(part(words, name)?.source ?? '');
  const title = words.name;
  return pageTemplate(
    content,
    'check-list.hbs',
  )({
    language: content.language,
    policy: contentPolicy(null),
    title,
    intro: said('intro'),
    needs: said('needs'),
    nothing: said('nothing'),
    checks: checkList(content).map((one) => ({
      ...one,
      wants: one.needs.map((role) => wordFor(role, content)).join(', '),
      // A check without limits has a row all the same.
      rows: (one.limits.length > 0 ? one.limits : [NO_LIMIT]).map((limit, k) => ({ ...limit, first: k === 0 })),
    })),
    style: styleOf(pageSize, title, content),
  });
}

const NO_LIMIT = { text: '–', applies: null, source: '–' };

function wordFor(role: ListedCheck['needs'][number], content: Content): string {
  return role === 'channels' ? content.label('tables.channel') : content.label(`role.${role}`);
}
