/** A comparison in words and pictures: `comparison.json` and `index.html`. The page adds no facts. */

import { there } from '../../base/there.ts';
import { zoneOf } from '../../base/zone.ts';
import type { DrawSvg } from '../../charts/drawing/draw.ts';
import type { Compared } from '../../checks/check.ts';
import { contentPolicy } from '../../report/page/explore.ts';
import { styleOf } from '../../report/page/page.ts';
import { pageTemplate } from '../../report/page/template.ts';
import type { Content } from '../../report/words/content.ts';
import { type Format, makeFormat } from '../../report/words/format.ts';
import { decimalsFor } from '../../report/words/numbers.ts';
import { part, readSections, render, toText } from '../../report/words/prose.ts';
import { type MeasureValue, measureName } from '../measures.ts';
import type { ComparedMeasure, Comparison } from './comparison.ts';
import { comparisonCharts } from './comparison-charts.ts';
import type { ComparisonJson } from './contract.ts';

const FILE = 'comparison.md';

export interface MadeComparison {
  readonly json: ComparisonJson;
  readonly html: string;
  readonly charts: readonly { readonly name: string; readonly spec: object }[];
  /** ms since the epoch; the document's date: the end of the later log. */
  readonly dateMs: number;
}

export interface ComparisonPageOptions {
  readonly pageSize: 'a4' | 'letter';
  readonly content: Content;
  readonly version: string;
  readonly drawSvg: DrawSvg;
}

export async function makeComparison(comparison: Comparison, options: ComparisonPageOptions): Promise<MadeComparison> {
  const { content, pageSize, version, drawSvg } = options;
  const { before, after } = comparison;
  const format = makeFormat(content.locale, zoneOf(after.session.timezone), content.label('unknown'));
  const words = wordsOf(comparison, content, format);
  const names = namesOf(comparison, content);
  const say = (key: string) => names[key] ?? content.label(`comparison.${key}`);
  const change = (one: ComparedMeasure) =>
    `${quantity(one.before, one.unit, content, format)} → ${quantity(one.after, one.unit, content, format)}`;
  const charts = comparisonCharts(
    comparison,
    { say, nameOf: (name) => measureName(name, content), words: content.words },
    change,
  );
  const figures = [];
  for (const [k, { name, spec }] of charts.entries()) {
    const text = { title: say(`chart_${name}`), desc: words.reason, idPrefix: `compare-${name}` };
    const svg = await drawSvg(spec, text);
    figures.push({
      name,
      id: `figure-${name}`,
      number: k + 1,
      conclusion: say(`chart_${name}`),
      title: say(`chart_${name}`),
      svg,
    });
  }
  const title = `${names.title}: ${before.session.title} – ${after.session.title}`;
  const html = pageTemplate(content, 'comparison.hbs', ['marks', 'status', 'figure'])({
    language: content.language,
    policy: contentPolicy(null),
    title,
    style: styleOf(pageSize, title, content),
    verdict: comparison.verdict,
    beside: comparison.reason === 'model-baseline',
    names,
    reason: words.reason,
    sides: [side('before', comparison, names, content), side('after', comparison, names, content)],
    measures: words.measures,
    findings: comparison.findings,
    figures,
    notes: words.notes,
    version,
  });
  const dateMs = Math.max(Date.parse(before.log.end), Date.parse(after.log.end));
  return { json: comparisonJson(comparison, words), html, charts, dateMs };
}

interface ComparisonWords {
  readonly reason: string;
  readonly notes: readonly string[];
  readonly measures: readonly {
    readonly name: string;
    readonly before: string;
    readonly after: string;
    readonly difference: string;
    readonly verdict: string;
    readonly reason: string;
    /** False where there was nothing to cure: the verdict is then no news, and its reason says it. */
    readonly ailed: boolean;
  }[];
}

function wordsOf(comparison: Comparison, content: Content, format: Format): ComparisonWords {
  const prose = readSections(FILE, content.text(FILE));
  const text = (section: string, key: string, facts = {}) =>
    toText(render(FILE, part(part(prose, section), key)?.source ?? '', facts, format));
  const measures = comparison.measures.map((one) => ({
    name: measureName(one.name, content),
    before: quantity(one.before, one.unit, content, format),
    after: quantity(one.after, one.unit, content, format),
    difference: signed({ value: one.difference, uncertainty: one.differenceUncertainty }, one.unit, content, format),
    verdict: one.verdict,
    ailed: !['no-fault-before', 'differs', 'alike'].includes(one.reason),
    reason: text('reasons', one.reason, reasonFacts(one)),
  }));
  const notes = toText(part(prose, 'notes')?.source ?? '')
    .split('\n')
    .map((line) => line.replace(/^- /, ''));
  return { reason: text('whole', comparison.reason), measures, notes: notes.filter(Boolean) };
}

function reasonFacts({ readings: { before, after } }: ComparedMeasure) {
  return {
    lacksBefore: before.lacks ?? '',
    lacksAfter: after.lacks ?? '',
    hasBefore: before.value !== null,
    hasAfter: after.value !== null,
    beforeC: before.temperatureC,
    afterC: after.temperatureC,
  };
}

/** A value with its uncertainty, in the unit people use. */
function quantity(
  { value, uncertainty }: MeasureValue,
  unit: Compared['unit'],
  content: Content,
  format: Format,
): string {
  if (value === null) return content.label('unknown');
  if (unit !== '1/d' && unit !== 'Ah/d') return format.quantity(value, unit, uncertainty);
  const decimals = uncertainty !== null && uncertainty > 0 ? Math.max(0, decimalsFor(uncertainty)) : 1;
  const spread = uncertainty === null ? '' : ` ± ${format.number(uncertainty, decimals)}`;
  return `${format.number(value, decimals)}${spread} ${content.label(`comparison.unit.${unit}`)}`.replaceAll(
    ' ',
    '\u00a0',
  );
}

function signed(difference: MeasureValue, unit: Compared['unit'], content: Content, format: Format): string {
  const text = quantity(difference, unit, content, format);
  return difference.value !== null && difference.value > 0 ? `+${text}` : text;
}

const NAMES = ['title', 'before', 'after', 'measures', 'findings', 'chart_measures', 'draw_note', 'cranks_note'];

/** What the two are called: a healthy vehicle of the model is no "before". */
function namesOf({ reason }: Comparison, content: Content): Readonly<Record<string, string>> {
  const key = reason === 'model-baseline' ? 'comparison.beside' : 'comparison';
  return Object.fromEntries(NAMES.map((name) => [name, content.label(`${key}.${name}`)]));
}

function side(
  which: 'before' | 'after',
  comparison: Comparison,
  names: Readonly<Record<string, string>>,
  content: Content,
) {
  const { session, log } = comparison[which];
  const format = makeFormat(content.locale, zoneOf(session.timezone), content.label('unknown'));
  const at = (iso: string) => Date.parse(iso) / 1000;
  // Another vehicle is another customer's: what it is stays, whose it is does not.
  const isNamed = which === 'after' || !['another-vehicle', 'model-baseline'].includes(comparison.reason);
  return {
    name: names[which],
    title: session.title,
    link: `../../sessions/${encodeURIComponent(session.id)}/index.html`,
    vehicle: [session.vehicle.description, isNamed ? session.vehicle.registration : null].filter(Boolean).join(', '),
    repairOrder: isNamed ? session.repair_order : null,
    logged: `${format.date(at(log.start))} – ${format.date(at(log.end))} (${format.duration(at(log.end) - at(log.start))})`,
  };
}

/** In the key names of the contract; findings stand beside the measures. */
function comparisonJson(comparison: Comparison, words: ComparisonWords): ComparisonJson {
  return {
    schema: 'standstill-comparison/1',
    before: comparison.before.session.id,
    after: comparison.after.session.id,
    verdict: comparison.verdict,
    reason: words.reason,
    reason_key: comparison.reason,
    measures: comparison.measures.map((one, k) => ({
      name: one.name,
      unit: one.unit,
      before: rounded(one.before),
      after: rounded(one.after),
      difference: six(one.difference),
      difference_uncertainty: six(one.differenceUncertainty),
      verdict: one.verdict,
      reason: there(words.measures[k]).reason,
      reason_key: one.reason,
    })),
    findings: comparison.findings.map(({ titleBefore, titleAfter, ...rest }) => ({
      ...rest,
      title_before: titleBefore,
      title_after: titleAfter,
    })),
  };
}

const six = (value: number | null) => (value === null ? null : Number(value.toPrecision(6)));
const rounded = ({ value, uncertainty }: MeasureValue) => ({ value: six(value), uncertainty: six(uncertainty) });
