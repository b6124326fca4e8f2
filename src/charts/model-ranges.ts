/**
 * Vehicles as points over the normal ranges of their model, one figure a row, each on a scale of its own: the band is the range, and
 * as far again to both sides is shown. A range of too few vehicles is a line.
 */
import { rows, tickAxis, topLevel } from './chart.ts';
import type { Spec } from './drawing/draw.ts';
import { textWidthPx } from './drawing/font-widths.ts';
import { rounded } from './drawing/numbers.ts';
import { BLUE, BLUE_PALE, GREY, ORANGE, TEXT_PX, WIDTH } from './drawing/theme.ts';
import type { Words } from './drawing/words.ts';

export interface RangeRow {
  readonly name: string;
  /** Too few vehicles for a range: only what was seen. */
  readonly isSeen: boolean;
  readonly points: readonly {
    /** 0: the least of the range; 1: its most. */
    readonly along: number;
    readonly isOutside: boolean;
  }[];
  /** At the right end; empty where there is nothing to say. */
  readonly note: string;
}

const NAMES_PX = 250;
const NOTES_PX = 130;
const PLOT_PX = WIDTH - NAMES_PX - NOTES_PX;
const ROW_PX = 22;
const [LEAST, MOST] = [-0.97, 1.97];

export function modelRanges(shown: readonly RangeRow[], title: string, words: Words): Spec {
  const names = shown.map(({ name }) => shortened(name, NAMES_PX - 14));
  const marks = {
    values: [-0.5, 0.5, 1.5],
    labels: ['mark.lower', 'mark.normal', 'mark.higher'].map((key) => words.say(key)),
  };
  const x = {
    field: 'x',
    type: 'quantitative',
    scale: { domain: [-1, 2], nice: false },
    axis: { ...tickAxis(marks), orient: 'top', title: null, grid: false, labelColor: GREY },
  };
  const y = {
    field: 'y',
    type: 'quantitative',
    scale: { domain: [shown.length - 0.5, -0.5], nice: false },
    axis: {
      ...tickAxis({ values: shown.map((_, k) => k), labels: names }),
      title: null,
      grid: false,
      minExtent: NAMES_PX,
      maxExtent: NAMES_PX,
    },
  };
  const ranges = (isSeen: boolean) => shown.flatMap((row, k) => (row.isSeen === isSeen ? [{ y: k, x: 0, to: 1 }] : []));
  const points = (isOutside: boolean) =>
    shown.flatMap((row, k) =>
      row.points
        .filter((point) => point.isOutside === isOutside)
        .map(({ along }) => ({ y: k, x: rounded(Math.min(Math.max(along, LEAST), MOST)) })),
    );
  const notes = shown.flatMap(({ note, points: own }, k) =>
    note === '' ? [] : [{ y: k, text: shortened(note, NOTES_PX - 12), bold: own.some(({ isOutside }) => isOutside) }],
  );
  const range = (data: readonly object[], mark: object) => ({
    data: rows(data),
    mark: { type: 'rule', ...mark },
    encoding: { x, x2: { field: 'to' }, y },
  });
  const point = (data: readonly object[], mark: object) => ({
    data: rows(data),
    mark: { type: 'point', filled: true, ...mark },
    encoding: { x, y },
  });
  const text = (isBold: boolean) => ({
    data: rows(notes.filter(({ bold }) => bold === isBold)),
    mark: {
      type: 'text',
      align: 'left',
      baseline: 'middle',
      dx: 10,
      ...(isBold ? { fontWeight: 600 } : { color: GREY }),
    },
    encoding: { x: { value: PLOT_PX }, y, text: { field: 'text' } },
  });
  const layers = [
    range(ranges(false), { color: BLUE_PALE, strokeWidth: 12 }),
    range(ranges(true), { color: BLUE_PALE, strokeWidth: 3 }),
    point(points(false), { shape: 'circle', color: BLUE, size: 34, opacity: 0.75 }),
    point(points(true), { shape: 'diamond', color: ORANGE, size: 90, opacity: 1 }),
    text(false),
    text(true),
  ];
  return topLevel(title, {
    width: PLOT_PX,
    height: ROW_PX * shown.length,
    layer: layers.filter(({ data }) => data.values.length > 0),
  });
}

function shortened(text: string, mostPx: number): string {
  let short = text;
  while (short.length > 1 && textWidthPx(short, TEXT_PX) > mostPx) short = `${short.slice(0, -2)}…`;
  return short;
}
