/** The sheet that goes to the vehicle: cautions first, then steps in order with boxes and fields. Its words are `content/<language>/fitting-sheet.md`. */
import type { RootContent } from 'mdast';
import remarkParse from 'remark-parse';
import { unified } from 'unified';
import { UserError } from '../../base/problem.ts';
import { readCaution } from '../words/cautions.ts';
import type { Content } from '../words/content.ts';
import { part, readSections, type Section, toHtml, toText } from '../words/prose.ts';
import { contentPolicy } from './explore.ts';
import { styleOf } from './page.ts';
import { pageTemplate } from './template.ts';

export interface SheetHead {
  readonly title?: string;
  /** Label key below `facts`, and what is known; undefined prints a line to write on. */
  readonly facts: readonly { readonly key: string; readonly value?: string }[];
}

/** @param value of the manifest's path, such as `vehicle.odometer`; undefined where it is not known */
export function sheetHead(value: (path: string) => string | undefined, content: Content): SheetHead {
  const chemistry = value('battery.chemistry');
  const battery = [chemistry && content.label(`chemistry.${chemistry}`), value('battery.capacity')];
  return {
    title: value('session.title'),
    facts: [
      { key: 'vehicle', value: value('vehicle.description') },
      { key: 'registration', value: value('vehicle.registration') },
      { key: 'odometer', value: value('vehicle.odometer') },
      { key: 'repair_order', value: value('session.repair_order') },
      { key: 'technician', value: value('session.technician') },
      { key: 'battery', value: battery.filter(Boolean).join(', ') || undefined },
    ],
  };
}

export interface SheetOptions {
  readonly pageSize: 'a4' | 'letter';
  readonly content: Content;
}

/** All of them, whatever the vehicle: who prints the sheet may not be who fits the logger. In this order. */
const CAUTIONS = [
  'first',
  'acid',
  'hydrogen',
  'short-circuit',
  'high-voltage',
  'airbag',
  'memory-supply',
  'moving-parts',
  'frozen',
];
const FILE = 'fitting-sheet.md';
const STEP = 'step: ';
const FIELD = /\s*\{([^{}|]*)\|([^{}|]*)\|([^{}|]*)\}/g;

/** One page, whole in itself, for screen and printer. Throws a `UserError` where a part of the words is missing. */
export function renderFittingSheet(head: SheetHead, options: SheetOptions): string {
  const { content, pageSize } = options;
  const words = readSections(FILE, content.text(FILE));
  const title = head.title ?? words.name;
  return pageTemplate(
    content,
    'fitting-sheet.hbs',
  )({
    language: content.language,
    policy: contentPolicy(null),
    title: head.title ? `${words.name} — ${head.title}` : words.name,
    heading: title,
    kind: textOf(words, 'kind'),
    intro: textOf(words, 'intro'),
    record: textOf(words, 'heading: record'),
    cautionsHeading: textOf(words, 'heading: cautions'),
    facts: head.facts,
    cautions: cautions(words, content),
    steps: words.parts.filter((section) => section.name.startsWith(STEP)).map(stepView),
    style: `${styleOf(pageSize, title, content)}\n${content.template('styles/fitting-sheet.css')}`,
  });
}

function textOf(words: Section, name: string): string {
  return toText(needed(words, name, FILE).source);
}

function needed(words: Section, name: string, file: string): Section {
  const found = part(words, name);
  if (!found) throw new UserError([{ file, message: `the part "## ${name}" is missing.` }]);
  return found;
}

/** Those of every report, and the two that only this sheet has. */
function cautions(words: Section, content: Content) {
  const shared = readSections('cautions.md', content.text('cautions.md'));
  return CAUTIONS.map((id) => readCaution(part(words, id) ?? needed(shared, id, 'cautions.md')));
}

interface Field {
  readonly label: string;
  readonly unit: string;
  /** Where it goes in the manifest. */
  readonly name: string;
}

function stepView(section: Section, index: number) {
  const items = unified()
    .use(remarkParse)
    .parse(section.source)
    .children.flatMap((node) => (node.type === 'list' ? node.children : []));
  return {
    name: section.name.slice(STEP.length),
    id: `step-${index + 1}`,
    items: items.map((item) => itemView(item, section.source)),
  };
}

function itemView(item: RootContent, source: string): { html: string; fields: Field[]; many: boolean } {
  const written = source.slice(item.position?.start.offset, item.position?.end.offset).replace(/^[-*]\s+/, '');
  const fields = [...written.matchAll(FIELD)].map(([, label = '', unit = '', name = '']) => ({
    label: label.trim(),
    unit: unit.trim(),
    name: name.trim(),
  }));
  return { html: toHtml(written.replaceAll(FIELD, '')).replace(/^<p>|<\/p>$/g, ''), fields, many: fields.length > 2 };
}
