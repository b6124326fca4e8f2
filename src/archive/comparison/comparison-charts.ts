/**
 * Two sessions in one picture: each measure on an axis of its own, and the stands, wakes and cranks of both on common
 * axes. Before is orange and hollow or dashed, after is blue and filled, so that a grey print tells them apart.
 */
import { limitUpright, panel, rows, topLevel, valueX, valueY } from '../../charts/chart.ts';
import type { Spec } from '../../charts/drawing/draw.ts';
import { numberTicks, rounded, shownAs, tickLabels } from '../../charts/drawing/numbers.ts';
import { BLUE, BLUE_PALE, GREY, INK, ORANGE, ORANGE_PALE, PLOT, TITLE_PX, WIDTH } from '../../charts/drawing/theme.ts';
import { niceTicks } from '../../charts/drawing/ticks.ts';
import type { Words } from '../../charts/drawing/words.ts';
import type { StoredReport } from '../stored-report.ts';
import type { ComparedMeasure, Comparison } from './comparison.ts';

/** The language of the pictures: `say` gives a label of comparisons by its key, `words` writes numbers. */
export interface Texts {
  say(key: string): string;
  /** Of a measure, in words. */
  nameOf(measure: string): string;
  readonly words: Words;
}

export interface ComparisonChart {
  readonly name: 'measures' | 'events';
  readonly spec: Spec;
}

type Side = 'before' | 'after';
const SIDES: readonly Side[] = ['before', 'after'];
const COLOUR = { before: ORANGE, after: BLUE };
const PALE = { before: ORANGE_PALE, after: BLUE_PALE };
const ROW_PX = { before: 8, after: 28 };
/** Words between the two, where no bar crosses them. */
const BETWEEN_PX = 13;
/** Height of a panel with a row for each side. */
const ROWS_PX = 36;
/**
 * Measures stand in two columns, so that nine of them and the findings share a page: `left` for the sides' names, `right` for
 * what stands beside the last tick, `above` for the two lines of the heading, `below` for ticks and the next heading's distance.
 */
const CELL = { left: 58, right: 62, gap: 20, above: 38, below: 24 };
const CELL_PLOT = (WIDTH - CELL.gap) / 2 - CELL.left - CELL.right;
/** Not seen: keeps the picture as wide as the others, and so its type as large, however few cells there are. */
const STRUT = {
  data: rows([{}]),
  mark: { type: 'rule', opacity: 0 },
  encoding: { x: { value: -CELL.left }, x2: { value: WIDTH - CELL.left }, y: { value: 0 } },
};
const DAY_S = 86_400;

/** Charts that the two reports have something for. */
export function comparisonCharts(comparison: Comparison, texts: Texts, textOf: (one: ComparedMeasure) => string) {
  const { say } = texts;
  const charts: ComparisonChart[] = [];
  const both = comparison.measures.filter(({ before, after }) => before.value !== null && after.value !== null);
  const [first, ...others] = both.map((one) => measureCell(one, texts, textOf(one)));
  if (first) {
    const spec = topLevel(say('chart_measures'), {
      columns: 2,
      bounds: 'flush',
      spacing: { row: CELL.above + CELL.below, column: CELL.left + CELL.right + CELL.gap },
      concat: [{ ...first, layer: [...first.layer, STRUT] }, ...others],
    });
    charts.push({ name: 'measures', spec });
  }
  const panels = [drawPanel(comparison, texts), wakesPanel(comparison, texts), cranksPanel(comparison, texts)];
  const shown = panels.filter((one) => one !== null);
  if (shown.length > 0) charts.push({ name: 'events', spec: topLevel(say('chart_events'), { vconcat: shown }) });
  return charts;
}

function measureCell(one: ComparedMeasure, { say, nameOf, words }: Texts, note: string) {
  const limit = commonLimit(one);
  // A rate of events is never below nought, and so is the bar that is drawn.
  const least = one.unit === '1/d' ? 0 : Number.NEGATIVE_INFINITY;
  const bars = SIDES.map((side) => {
    const { value, uncertainty } = one[side];
    return {
      side,
      x: value ?? 0,
      lo: Math.max((value ?? 0) - (uncertainty ?? 0), least),
      hi: (value ?? 0) + (uncertainty ?? 0),
    };
  });
  const all = [...bars.flatMap(({ lo, hi }) => [lo, hi]), ...(limit === null ? [] : [limit])];
  const [low, high] = [Math.min(...all), Math.max(...all)];
  const { unit } = one;
  const isRate = unit === '1/d' || unit === 'Ah/d';
  const shown = isRate ? { unit, factor: 1 } : shownAs(unit, Math.max(Math.abs(low), Math.abs(high)), words);
  const fromZero = one.unit !== 'V' && low >= 0;
  const { values, domain } = niceTicks((fromZero ? 0 : low) * shown.factor, high * shown.factor, 4);
  const labels = tickLabels(values, words).map((text, k) =>
    k === values.length - 1 ? `${text}\u00a0${shown.unit}` : text,
  );
  const x = valueX('t', { values, labels }, domain, '');
  const show = (value: number) => rounded(value * shown.factor);
  const layer = bars.flatMap(({ side, x: at, lo, hi }) => [
    {
      data: rows([{ t: show(lo), to: show(hi) }]),
      mark: { type: 'rule', color: COLOUR[side], strokeWidth: 2 },
      encoding: { x, x2: { field: 'to' }, y: { value: ROW_PX[side] } },
    },
    {
      data: rows([{ t: show(at) }]),
      mark: pointMark(side, 70),
      encoding: { x, y: { value: ROW_PX[side] } },
    },
    {
      data: rows([{ label: say(side) }]),
      mark: { type: 'text', align: 'right', baseline: 'middle', dx: -8 },
      encoding: { x: { value: 0 }, y: { value: ROW_PX[side] }, text: { field: 'label' } },
    },
  ]);
  const bound = limit === null ? [] : limitUpright(x, show(limit), say('limit'), BETWEEN_PX);
  return cell(nameOf(one.name), note, [...bound, ...layer]);
}

/** A panel of half the width, its note below its title. */
function cell(title: string, note: string, layer: readonly object[]) {
  const heading = (text: string, y: number, mark: object) => ({
    data: rows([{ text }]),
    mark: { type: 'text', align: 'left', baseline: 'alphabetic', ...mark },
    encoding: { x: { value: -CELL.left }, y: { value: y }, text: { field: 'text' } },
  });
  const words = [heading(title, -26, { fontSize: TITLE_PX, fontWeight: 600 }), heading(note, -11, { color: GREY })];
  return { width: CELL_PLOT, height: ROWS_PX, layer: [...layer, ...words] };
}

/** The limit that both were judged by, where it is one in the measure's unit. */
function commonLimit({ readings: { before, after }, unit }: ComparedMeasure): number | null {
  const limit = after.limit;
  return limit && limit.unit === unit && limit.value === before.limit?.value ? limit.value : null;
}

const pointMark = (side: Side, size: number) => ({
  type: 'point',
  shape: 'circle',
  filled: side === 'after',
  fill: side === 'after' ? BLUE : '#ffffff',
  stroke: COLOUR[side],
  strokeWidth: 2,
  size,
  opacity: 1,
});

/** Days since the log's own start, so that both logs begin at one place. */
const daysIn = (report: StoredReport, at: string) =>
  rounded((Date.parse(at) - Date.parse(report.log.start)) / 1000 / DAY_S, 7);

function daysX(comparison: Comparison, { say, words }: Texts) {
  const longest = Math.max(...SIDES.map((side) => daysIn(comparison[side], comparison[side].log.end)));
  const { values } = niceTicks(0, longest, 8);
  const inside = values.filter((value) => value <= longest);
  return valueX('t', numberTicks(inside, words), [0, longest], say('days_in'));
}

function drawPanel(comparison: Comparison, texts: Texts) {
  const { say, words } = texts;
  const stands = SIDES.flatMap((side) =>
    comparison[side].parked.flatMap((stand) =>
      stand.sleep_draw_a === null
        ? []
        : [
            {
              side,
              t: daysIn(comparison[side], stand.start),
              to: daysIn(comparison[side], stand.end),
              y: rounded(stand.sleep_draw_a * 1000),
              lo: rounded((stand.sleep_draw_a - (stand.sleep_draw_u_a ?? 0)) * 1000),
              hi: rounded((stand.sleep_draw_a + (stand.sleep_draw_u_a ?? 0)) * 1000),
            },
          ],
    ),
  );
  if (stands.length === 0) return null;
  const ticks = niceTicks(Math.min(0, ...stands.map(({ lo }) => lo)), Math.max(...stands.map(({ hi }) => hi)), 4);
  const x = daysX(comparison, texts);
  const y = valueY('y', numberTicks(ticks.values, words), ticks.domain);
  const layer = SIDES.flatMap((side) => {
    const own = stands.filter((stand) => stand.side === side).map(({ side: _, ...stand }) => stand);
    return [
      {
        data: rows(own),
        mark: { type: 'rect', color: PALE[side], opacity: 0.5 },
        encoding: { x, x2: { field: 'to' }, y: { ...y, field: 'lo' }, y2: { field: 'hi' } },
      },
      {
        data: rows(own),
        mark: {
          type: 'rule',
          color: COLOUR[side],
          strokeWidth: 2,
          ...(side === 'before' ? { strokeDash: [5, 2] } : {}),
        },
        encoding: { x, x2: { field: 'to' }, y },
      },
      sideLabel(own, side, y, texts),
    ];
  });
  return panel({ title: say('draw_title'), note: say('draw_note'), height: 120, layer });
}

/** The side's name in the right margin, at the height of its last row. */
function sideLabel(own: readonly { readonly y: number }[], side: Side, y: object, { say }: Texts) {
  const last = own.at(-1);
  return {
    data: rows(last ? [{ ...last, label: say(side) }] : []),
    mark: { type: 'text', align: 'left', baseline: 'middle', dx: 6, fontWeight: 600, color: INK },
    encoding: { x: { value: PLOT }, y, text: { field: 'label' } },
  };
}

function wakesPanel(comparison: Comparison, texts: Texts) {
  const { say } = texts;
  if (SIDES.every((side) => comparison[side].wakes.length === 0)) return null;
  const x = daysX(comparison, texts);
  const layer = SIDES.flatMap((side) => {
    const { wakes, log } = comparison[side];
    return [
      {
        data: rows([{ t: 0, to: daysIn(comparison[side], log.end) }]),
        mark: { type: 'rule', color: PALE[side], strokeWidth: 1 },
        encoding: { x, x2: { field: 'to' }, y: { value: ROW_PX[side] } },
      },
      {
        data: rows(wakes.map((wake) => ({ t: daysIn(comparison[side], wake.start) }))),
        mark: { type: 'tick', color: COLOUR[side], thickness: 1.4, size: 15, opacity: 1 },
        encoding: { x, y: { value: ROW_PX[side] } },
      },
      {
        data: rows([{ label: say(side) }]),
        mark: { type: 'text', align: 'right', baseline: 'middle', dx: -8 },
        encoding: { x: { value: 0 }, y: { value: ROW_PX[side] }, text: { field: 'label' } },
      },
    ];
  });
  return panel({ title: say('wakes_title'), note: say('wakes_note'), height: ROWS_PX, layer });
}

/** Voltage while cranking over the temperature, on which it depends. */
function cranksPanel(comparison: Comparison, { say, words }: Texts) {
  const points = SIDES.flatMap((side) =>
    comparison[side].cranks.flatMap(({ temperature_c, volts_cranking }) =>
      temperature_c === null || volts_cranking === null
        ? []
        : [{ side, t: rounded(temperature_c), y: rounded(volts_cranking) }],
    ),
  );
  if (points.length === 0) return null;
  const span = (of: (one: { t: number; y: number }) => number, margin: number) =>
    [Math.min(...points.map(of)) - margin, Math.max(...points.map(of)) + margin] as const;
  const across = niceTicks(...span(({ t }) => t, 1), 7);
  const up = niceTicks(...span(({ y }) => y, 0.1), 4);
  const x = valueX('t', numberTicks(across.values, words), across.domain, say('temperature'));
  const y = valueY('y', numberTicks(up.values, words), up.domain);
  const layer = SIDES.map((side) => ({
    data: rows(points.filter((one) => one.side === side).map(({ t, y: volts }) => ({ t, y: volts }))),
    mark: pointMark(side, 50),
    encoding: { x, y },
  }));
  return panel({ title: say('cranks_title'), note: say('cranks_note'), height: 110, layer });
}
