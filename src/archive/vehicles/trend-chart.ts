/** A vehicle over its sessions: one panel for each measure, on the calendar. */
import { limitLine, panel, rows, topLevel, valueX, valueY } from '../../charts/chart.ts';
import type { Spec } from '../../charts/drawing/draw.ts';
import { textWidthPx } from '../../charts/drawing/font-widths.ts';
import { pxAlong } from '../../charts/drawing/labels.ts';
import { limitWords, numberTicks, rounded, shownAs } from '../../charts/drawing/numbers.ts';
import { BLUE, PLOT, TEXT_PX } from '../../charts/drawing/theme.ts';
import { niceTicks } from '../../charts/drawing/ticks.ts';
import type { Words } from '../../charts/drawing/words.ts';
import type { Unit } from '../../measures/limit.ts';
import type { Reading } from '../measures.ts';

export interface Trend {
  readonly title: string;
  readonly unit: Unit;
  readonly points: readonly { readonly atMs: number; readonly reading: Reading }[];
}

/** @param dateOf words for a moment, ms since the epoch */
export function trendChart(
  title: string,
  trends: readonly Trend[],
  dateOf: (ms: number) => string,
  words: Words,
): Spec | null {
  const shown = trends.filter(({ points }) => points.filter(({ reading }) => reading.value !== null).length > 1);
  if (shown.length === 0) return null;
  const times = shown.flatMap(({ points }) => points.map(({ atMs }) => atMs));
  const [first, last] = [Math.min(...times), Math.max(...times)];
  const margin = 0.03 * (last - first) || 1;
  const domain = [first - margin, last + margin];
  const ticks = datesWithRoom([...new Set(times)].sort(), domain, dateOf);
  const x = valueX('t', ticks, domain, '');
  return topLevel(title, { vconcat: shown.map((trend) => trendPanel(trend, x, words)) });
}

function trendPanel({ title, unit, points }: Trend, x: object, words: Words) {
  const known = points.flatMap(({ atMs, reading }) =>
    reading.value === null
      ? []
      : [{ t: atMs, value: reading.value, U: reading.uncertainty ?? 0, limit: reading.limit }],
  );
  const limits = new Set(known.map(({ limit }) => (limit?.unit === unit ? limit.value : null)));
  // One line across the plot is drawn only where all sessions had the same limit.
  const limit = limits.size === 1 ? [...limits][0] : null;
  const all = [...known.flatMap(({ value, U }) => [value - U, value + U]), ...(limit === null ? [] : [limit])];
  const [low, high] = [Math.min(...all), Math.max(...all)];
  const shown = shownAs(unit, Math.max(Math.abs(low), Math.abs(high)), words);
  const up = niceTicks((unit !== 'V' && low >= 0 ? 0 : low) * shown.factor, high * shown.factor, 4);
  const y = valueY('y', numberTicks(up.values, words), up.domain);
  const show = (value: number) => rounded(value * shown.factor);
  const data = known.map(({ t, value, U }) => ({ t, y: show(value), lo: show(value - U), hi: show(value + U) }));
  return panel({
    title: `${title}, ${shown.unit}`,
    height: 84,
    layer: [
      ...(limit === null ? [] : limitLine(y, show(limit), limitWords(limit, unit, words))),
      { data: rows(data), mark: { type: 'line', color: BLUE, strokeWidth: 1 }, encoding: { x, y } },
      {
        data: rows(data),
        mark: { type: 'rule', color: BLUE, strokeWidth: 2 },
        encoding: { x, y: { ...y, field: 'lo' }, y2: { field: 'hi' } },
      },
      {
        data: rows(data),
        mark: { type: 'point', shape: 'circle', filled: true, size: 60, color: BLUE, opacity: 1 },
        encoding: { x, y },
      },
    ],
  });
}

/** Sessions' dates as ticks, those that have room. */
function datesWithRoom(times: readonly number[], domain: readonly number[], dateOf: (ms: number) => string) {
  const values: number[] = [];
  let free = Number.NEGATIVE_INFINITY;
  for (const at of times) {
    const [px, half] = [pxAlong(at, domain, PLOT), textWidthPx(dateOf(at), TEXT_PX) / 2 + 6];
    if (px - half < free) continue;
    free = px + half;
    values.push(at);
  }
  return { values, labels: values.map(dateOf) };
}
