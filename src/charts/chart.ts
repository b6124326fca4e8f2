/** What every chart is, and the few pieces of spec that all of them share. */
import type { Analysis } from '../analysis/model.ts';
import type { AnyFacts, Finding } from '../checks/check.ts';
import type { Session } from '../manifest/session.ts';
import type { Spec } from './drawing/draw.ts';
import type { SessionClock } from './drawing/session-clock.ts';
import { BLUE, BLUE_PALE, CONFIG, GREY, INK, LEFT, PLOT, RIGHT, TITLE_PX } from './drawing/theme.ts';
import type { Ticks } from './drawing/ticks.ts';
import type { Words } from './drawing/words.ts';

/** What a chart is drawn from. */
export interface Scene {
  readonly analysis: Analysis;
  readonly session: Session;
  readonly words: Words;
  readonly clock: SessionClock;
}

export interface Subject extends Scene {
  readonly findings: readonly Finding[];
}

export interface Draft {
  /** Safe as a file name and as part of an id; evidence in findings names charts by it. */
  readonly name: string;
  /** The check whose answer it shows; null where it belongs to the session as a whole. */
  readonly check: string | null;
  readonly title: string;
  readonly spec: Spec;
  /** What a listener needs in place of the picture, in words of `facts` (SI units in the names). */
  readonly altFacts: AnyFacts;
  /** px; the width of a page where it is not said. */
  readonly widthPx?: number;
}

/** Null where the log holds nothing to draw. */
export type DraftOf = (subject: Subject) => Draft | null;

export const findingOf = (findings: readonly Finding[], check: string) =>
  findings.find((finding) => finding.check === check);

/** A number among a finding's facts, or null. */
export function factOf(finding: Finding | undefined, name: string): number | null {
  const value = finding?.facts?.[name];
  return typeof value === 'number' && Number.isFinite(value) ? value : null;
}

export const rows = (values: readonly object[]) => ({ values });

/** Ticks and labels that are worked out beforehand, so that vega's own choice and locale play no part. */
export function tickAxis({ values, labels }: Ticks) {
  const table = Object.fromEntries(values.map((value, k) => [String(value), labels[k]]));
  return { values, labelExpr: `${JSON.stringify(table)}[toString(toNumber(datum.value))]` };
}

/** Vertical axes all take the same room, so that plots stand under each other. */
export const leftAxis = (ticks: Ticks) => ({ ...tickAxis(ticks), title: null, minExtent: LEFT, maxExtent: LEFT });

/** The session's time along the bottom: `labels: false` for panels that stand above another one. */
export function timeX({ clock, words }: Scene, fromS: number, toS: number, labels = true) {
  const ticks = clock.ticks(fromS, toS, 9);
  const title = words.say(ticks.sayDay ? 'axis.local_time' : 'axis.local_time_on', {
    zone: clock.zone,
    day: clock.day(fromS),
  });
  return {
    field: 't',
    type: 'temporal',
    // Not `domain`: Vega-Lite would read its numbers as times for x and as numbers for x2, and see a conflict.
    scale: { type: 'utc', domainMin: clock.x(fromS), domainMax: clock.x(toS), nice: false },
    axis: labels
      ? { ...tickAxis(ticks), title, titleAnchor: 'end', labelAlign: ticks.sayDay ? 'left' : 'center' }
      : { ...tickAxis(ticks), title: null, labels: false },
  };
}

/** One panel: a title line with `note` in grey at its right end, and layers over one another in a plot of the common width. */
export function panel(parts: {
  readonly title: string;
  readonly note?: string;
  readonly height: number;
  readonly data?: object;
  readonly layer: readonly object[];
}) {
  const { title, note = '', height, data, layer } = parts;
  const heading = (text: string, x: number, mark: object) => ({
    data: rows([{ text }]),
    mark: { type: 'text', baseline: 'alphabetic', ...mark },
    encoding: { x: { value: x }, y: { value: -15 }, text: { field: 'text' } },
  });
  return {
    width: PLOT,
    height,
    ...(data ? { data } : {}),
    layer: [
      ...layer.filter(hasRows),
      heading(title, -LEFT, { align: 'left', fontSize: TITLE_PX, fontWeight: 600 }),
      ...(note ? [heading(note, PLOT + RIGHT, { align: 'right', color: GREY })] : []),
    ],
  };
}

/** Vega complains about data without a row, such as labels where none has room. */
function hasRows(layer: object): boolean {
  return !('data' in layer) || (layer.data as ReturnType<typeof rows>).values.length > 0;
}

export function topLevel(title: string, view: object): Spec {
  return {
    $schema: 'https://vega.github.io/schema/vega-lite/v6.json',
    description: title,
    config: CONFIG,
    ...view,
  };
}

/** A vertical axis with ticks that are worked out beforehand. */
export function valueY(field: string, ticks: Ticks, domain: readonly number[], scale: object = {}) {
  return {
    field,
    type: 'quantitative',
    scale: { ...scale, domain, nice: false },
    axis: leftAxis(ticks),
  };
}

/** Line of the mean, over a band from lowest to highest: of rows as `bandPoints` gives them. `data` where the panel has another. */
export function bandLayers(x: object, yOf: (field: string) => object, data?: object) {
  const own = data ? { data } : {};
  return [
    {
      ...own,
      mark: { type: 'area', color: BLUE_PALE, clip: true },
      encoding: { x, y: yOf('lo'), y2: { field: 'hi' } },
    },
    { ...own, mark: { type: 'line', color: BLUE, strokeWidth: 1.2, clip: true }, encoding: { x, y: yOf('y') } },
  ];
}

const LIMIT_MARK = { type: 'rule', strokeDash: [5, 3], strokeWidth: 1.2, color: INK };

/**
 * A limit across the plot: a dashed line, its words in the right margin. `y` is the plot's own vertical channel of the
 * field `y` (a bare one would bring vega's ticks along), `value` in its unit.
 */
export function limitLine(y: object, value: number, words: readonly string[]) {
  return [
    { data: rows([{ y: value }]), mark: LIMIT_MARK, encoding: { y } },
    {
      data: rows([{ y: value, label: words }]),
      mark: { type: 'text', align: 'left', baseline: 'middle', dx: 6, dy: -6, fontWeight: 600, lineHeight: 13 },
      encoding: { x: { value: PLOT }, y, text: { field: 'label' } },
    },
  ];
}

/**
 * A limit on the horizontal axis: a dashed line upright, its words beside it, `topPx` below its top. `x`: the plot's channel
 * of the field `t`.
 */
export function limitUpright(x: object, value: number, words: string, topPx = 2) {
  return [
    { data: rows([{ t: value }]), mark: LIMIT_MARK, encoding: { x } },
    {
      data: rows([{ t: value, label: words }]),
      mark: { type: 'text', align: 'left', baseline: 'top', dx: 5, fontWeight: 600 },
      encoding: { x, y: { value: topPx }, text: { field: 'label' } },
    },
  ];
}

/** A horizontal axis of plain numbers, its title at the right end. */
export function valueX(field: string, ticks: Ticks, domain: readonly number[], title: string) {
  return {
    field,
    type: 'quantitative',
    scale: { domain, nice: false },
    axis: { ...tickAxis(ticks), title, titleAnchor: 'end' },
  };
}
