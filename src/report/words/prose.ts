/**
 * Prose from Markdown files. A file is cut at its headings; a section is a Handlebars template over the facts of an
 * answer, rendered first and read as Markdown after. Facts come from logs and manifests and are not trusted: in a
 * rendered section every sign of theirs that Markdown could take for its own is escaped, and raw HTML is never passed on.
 */
import type { Root, RootContent } from 'mdast';
import remarkHtml from 'remark-html';
import remarkParse from 'remark-parse';
import { unified } from 'unified';
import { UserError } from '../../base/problem.ts';
import { there } from '../../base/there.ts';
import type { Stage } from '../contract/report.ts';
import { compileWith, Handlebars, PROSE } from './compile.ts';
import type { Format } from './format.ts';

export interface Section {
  /** Heading, as written. */
  readonly name: string;
  /** Markdown between its heading and the next one, with Handlebars expressions. */
  readonly source: string;
  readonly parts: readonly Section[];
}

export type FactValue = number | string | boolean | null | undefined;

export const STAGES: readonly Stage[] = ['safety', 'confirm', 'isolate', 'repair', 'verify'];

/** The tree of a file's headings, levels 1 to 3: the first section is the title, its parts the `##`, theirs the `###`. */
export function readSections(file: string, text: string): Section {
  const known = sectionsOf.get(text);
  if (known) return known;
  const sections = cutSections(file, text);
  sectionsOf.set(text, sections);
  return sections;
}

/** Several parts of a report read the same file. */
const sectionsOf = new Map<string, Section>();

// Headings are lines that begin with `#` outside of fenced code: reading all of each file as Markdown would take longer than
// the checks do.
const HEADING = /^(#{1,3})[ \t]+(.+?)[ \t#]*$/gm;
const FENCED = /^(```|~~~)[\s\S]*?^\1/gm;

function cutSections(file: string, text: string): Section {
  const outside = text.replace(FENCED, (code) => ' '.repeat(code.length));
  const headings = [...outside.matchAll(HEADING)].map(({ 0: line, 1: marks = '', 2: name = '', index }) => ({
    depth: marks.length,
    name,
    from: index,
    body: index + line.length,
  }));
  if (headings[0]?.depth !== 1)
    throw new UserError([{ file, line: 1, message: 'this file must begin with a title ("# …").' }]);
  const cut = (index: number): Section => {
    const heading = there(headings[index]);
    const below = headings.slice(index + 1);
    const close = below.findIndex((other) => other.depth <= heading.depth);
    const inside = close < 0 ? below : below.slice(0, close);
    const parts = inside.flatMap((other, offset) =>
      other.depth === heading.depth + 1 ? [cut(index + 1 + offset)] : [],
    );
    return { name: heading.name, source: text.slice(heading.body, below[0]?.from ?? text.length).trim(), parts };
  };
  return cut(0);
}

export function part(section: Section | undefined, name: string): Section | undefined {
  return section?.parts.find((one) => one.name === name);
}

/**
 * Renders a section's source. Helpers are those of `Format` that write one value; a name that the facts lack is a
 * `UserError` with the file's name, a null is written as "not known".
 */
export function render(
  file: string,
  source: string,
  facts: Readonly<Record<string, FactValue>>,
  format: Format,
): string {
  if (!source.includes('{{')) return source.trim();
  const safe = Object.fromEntries(
    Object.entries(facts).map(([name, value]) => [name, typeof value === 'string' ? escapeMarkdown(value) : value]),
  );
  try {
    return compile(source)(safe, { data: { format } }).trim();
  } catch (error) {
    throw new UserError([{ file, message: error instanceof Error ? error.message : String(error) }]);
  }
}

const HELPERS = [
  'A',
  'mA',
  'V',
  'Ah',
  'mohm',
  'percent',
  'temp',
  'duration',
  'days',
  'time',
  'date',
  'weekday',
  'number',
] as const;

/** `data.format` writes the values, so that one compiled template serves every session. */
const engine = Handlebars.create();
const formatOf = ({ data }: Handlebars.HelperOptions): Format => data.format;

for (const name of HELPERS) {
  engine.registerHelper(name, (value: number | null, ...rest: unknown[]) => {
    // Handlebars adds its own options as the last argument.
    const options = rest.pop() as Handlebars.HelperOptions;
    const second = rest.length > 0 ? (given(name, rest[0] as number | null) ?? undefined) : undefined;
    const write: (value: number | null, second?: number) => string = formatOf(options)[name];
    return write(given(name, value), second);
  });
}
engine.registerHelper('count', (n: number | null, one: string, many: string, options: Handlebars.HelperOptions) =>
  formatOf(options).count(given('count', n), one, many),
);

const compiled = new Map<string, Handlebars.TemplateDelegate>();

function compile(source: string): Handlebars.TemplateDelegate {
  const known = compiled.get(source) ?? compileWith(engine, source, PROSE);
  compiled.set(source, known);
  return known;
}

function given<T>(helper: string, value: T | undefined): T {
  if (value === undefined) throw new Error(`{{${helper} …}}: the answer gives no such value.`);
  return value;
}

/** Text on one line in which nothing is Markdown: ASCII punctuation is escaped, control signs and line breaks are spaces. */
export function escapeMarkdown(text: string): string {
  return text
    .replaceAll(/[\p{Cc}\p{Zl}\p{Zp}\s]+/gu, ' ')
    .trim()
    .replaceAll(/[!-/:-@[-`{-~]/g, '\\$&');
}

/** Whatever may mean something: marks, entities, more than one line, beginnings of lists and headings. */
const MARKED = /[\\`*_[\]<>&\0\t\r\n]|^ *(?:[-+#=~]|\d+[.)])/;

const markdownReader = unified().use(remarkParse).freeze();

/** Plain text: paragraphs parted by an empty line, list items on lines that begin with `- `. */
export function toText(markdown: string | RootContent | Root): string {
  // Most sentences have no mark of Markdown; reading them all as such takes a twentieth of a build.
  if (typeof markdown === 'string' && !MARKED.test(markdown)) return markdown.trim().replaceAll(/ +/g, ' ');
  const node = typeof markdown === 'string' ? markdownReader.parse(markdown) : markdown;
  return blocks(node).trim();
}

function blocks(node: Root | RootContent): string {
  if (node.type === 'root' || node.type === 'blockquote') return node.children.map(blocks).filter(Boolean).join('\n\n');
  if (node.type === 'list') return node.children.map((item) => `- ${item.children.map(blocks).join(' ')}`).join('\n');
  return inline(node);
}

function inline(node: RootContent): string {
  if (node.type === 'html' || node.type === 'image') return '';
  if (node.type === 'break') return ' ';
  if ('value' in node) return node.value.replaceAll(/[\n\t ]+/g, ' ');
  return 'children' in node ? node.children.map(inline).join('') : '';
}

const htmlWriter = unified()
  .use(remarkParse)
  .use(remarkHtml, {
    sanitize: {
      tagNames: ['p', 'ul', 'ol', 'li', 'strong', 'em', 'code', 'blockquote', 'h2', 'h3', 'h4'],
      strip: ['script', 'style'],
      attributes: {},
    },
  })
  .freeze();

/** HTML of Markdown: text, lists, emphasis and code only; no links, images or raw HTML. */
export function toHtml(markdown: string): string {
  return String(htmlWriter.processSync(markdown)).trim();
}

/** The list items of a rendered "next steps" part; each begins with its stage: `- confirm: …`. */
export function readSteps(file: string, markdown: string): { stage: Stage; text: string }[] {
  const items = markdownReader.parse(markdown).children.flatMap((node) => (node.type === 'list' ? node.children : []));
  return items
    .map((item) => {
      const text = item.children.map((child) => toText(child)).join(' ');
      const stage = STAGES.find((name) => text.startsWith(`${name}:`));
      if (!stage)
        throw new UserError([
          { file, message: `a next step must begin with one of ${STAGES.join(', ')} and a colon: "${text}".` },
        ]);
      const rest = text.slice(stage.length + 1).trim();
      return { stage, text: rest.charAt(0).toUpperCase() + rest.slice(1) };
    })
    .filter(({ text }) => text !== '');
}
