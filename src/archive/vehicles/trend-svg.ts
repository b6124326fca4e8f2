/**
 * One figure of a vehicle over its sessions, drawn straight to SVG: an archive has thousands of these, and a chart compiler takes
 * fifty times as long for the same dozen of lines. It looks as the charts of a report do, of whose parts it is made.
 */

import { lastOf, there } from '../../base/there.ts';
import { textWidthPx } from '../../charts/drawing/font-widths.ts';
import { limitWords, numberTicks, shownAs } from '../../charts/drawing/numbers.ts';
import { BLUE, GRID, INK, TEXT_PX } from '../../charts/drawing/theme.ts';
import { niceTicks } from '../../charts/drawing/ticks.ts';
import type { Words } from '../../charts/drawing/words.ts';
import type { Unit } from '../../measures/limit.ts';
import type { Figure } from '../summary/summary.ts';

export interface Trend {
  readonly id: string;
  /** Read aloud in place of the picture. */
  readonly title: string;
  readonly unit: Unit;
  /** In order of time. */
  readonly points: readonly { readonly atMs: number; readonly figure: Figure }[];
}

/** px */
const [WIDTH, HEIGHT] = [560, 150];
const PLOT = { left: 44, right: WIDTH - 64, top: 10, bottom: HEIGHT - 24 };
/** Above this many, points are no longer told apart: then a line alone. */
const MOST_POINTS = 60;

export interface TrendPicture {
  readonly svg: string;
  /** The unit that its axis has. */
  readonly unit: string;
}

/** Null where no session has the figure. @param dateOf words for a moment, ms since the epoch */
export function trendSvg(trend: Trend, dateOf: (ms: number) => string, words: Words): TrendPicture | null {
  const known = trend.points.flatMap(({ atMs, figure: { value, uncertainty, limit } }) =>
    value === null ? [] : [{ atMs, value, U: uncertainty ?? 0, limit }],
  );
  if (known.length === 0) return null;
  const all = known.flatMap(({ value, U, limit }) => [value - U, value + U, ...(limit === null ? [] : [limit])]);
  const [low, high] = [all.reduce((a, b) => Math.min(a, b)), all.reduce((a, b) => Math.max(a, b))];
  const shown = shownAs(trend.unit, Math.max(Math.abs(low), Math.abs(high)), words);
  const up = niceTicks((trend.unit !== 'V' && low >= 0 ? 0 : low) * shown.factor, high * shown.factor, 4);
  const [first, last] = [there(known[0]).atMs, lastOf(known).atMs];
  const x = (ms: number) => (last > first ? along(ms, [first, last], PLOT.left + 12, PLOT.right - 12) : middle);
  const y = (value: number) => along(value * shown.factor, up.domain, PLOT.bottom, PLOT.top);
  const grid = numberTicks(up.values, words).labels.map((label, k) => {
    const at = px(along(there(up.values[k]), up.domain, PLOT.bottom, PLOT.top));
    return line([PLOT.left, at], [PLOT.right, at], GRID, 1) + text(PLOT.left - 6, at + 4, label, 'end');
  });
  const points = known.map(({ atMs, value, U }) => {
    const at = px(x(atMs));
    const bar = U > 0 ? line([at, px(y(value - U))], [at, px(y(value + U))], BLUE, 2) : '';
    return `${bar}<circle cx="${at}" cy="${px(y(value))}" r="3.5" fill="${BLUE}"/>`;
  });
  const path = known.map(({ atMs, value }) => `${px(x(atMs))},${px(y(value))}`).join(' ');
  const parts = [
    ...grid,
    ...limitLines(known, trend.unit, x, y, words),
    known.length > 1 ? `<polyline points="${path}" fill="none" stroke="${BLUE}"/>` : '',
    ...(known.length > MOST_POINTS ? [] : points),
    ...dateLabels(first, last, x, dateOf),
  ];
  const svg = `<svg role="img" aria-labelledby="${trend.id}-title" width="${WIDTH}" height="${HEIGHT}" viewBox="0 0 ${WIDTH} ${HEIGHT}" font-family="Inter, sans-serif" font-size="${TEXT_PX}px"><title id="${trend.id}-title">${escaped(trend.title)}</title>${parts.join('')}</svg>`;
  return { svg, unit: shown.unit };
}

interface Known {
  readonly atMs: number;
  readonly limit: number | null;
}

/** From session to session, since each was held against its own; the last one is named. */
function limitLines(
  known: readonly Known[],
  unit: Unit,
  x: (ms: number) => number,
  y: (value: number) => number,
  words: Words,
) {
  const held = known.filter((one): one is Known & { limit: number } => one.limit !== null);
  const last = held.at(-1);
  if (!last) return [];
  const same = held.every(({ limit }) => limit === last.limit);
  const corners = same
    ? [`${PLOT.left},${px(y(last.limit))}`, `${PLOT.right},${px(y(last.limit))}`]
    : [...held.map(({ atMs, limit }) => `${px(x(atMs))},${px(y(limit))}`), `${PLOT.right},${px(y(last.limit))}`];
  return [
    `<polyline points="${corners.join(' ')}" fill="none" stroke="${INK}" stroke-width="1.2" stroke-dasharray="5,3"/>`,
    ...limitWords(last.limit, unit, words).map((line, k) =>
      text(PLOT.right + 6, Math.min(y(last.limit), PLOT.bottom - 8) + 13 * k, line, 'start', ' font-weight="600"'),
    ),
  ];
}

/** The first and the last day, which stand at the ends; between them one, where there is room. */
function dateLabels(first: number, last: number, x: (ms: number) => number, dateOf: (ms: number) => string) {
  const days = last > first ? [first, (first + last) / 2, last] : [first];
  const width = textWidthPx(dateOf(first), TEXT_PX) + 12;
  const room = days.length * width < PLOT.right - PLOT.left;
  const shown = room ? days : [first, last].slice(0, days.length);
  return shown.map((ms, k) => {
    const anchor = shown.length === 1 || (k > 0 && k < shown.length - 1) ? 'middle' : k === 0 ? 'start' : 'end';
    return text(x(ms), HEIGHT - 6, dateOf(ms), anchor);
  });
}

const middle = (PLOT.left + PLOT.right) / 2;
const px = (value: number) => Math.round(value * 10) / 10;

function along(value: number, [from, to]: readonly [number, number], start: number, end: number): number {
  return start + ((value - from) / (to - from)) * (end - start);
}

type Point = readonly [x: number, y: number];

const line = ([x1, y1]: Point, [x2, y2]: Point, stroke: string, width: number) =>
  `<line x1="${x1}" y1="${y1}" x2="${x2}" y2="${y2}" stroke="${stroke}" stroke-width="${width}"/>`;

const text = (x: number, y: number, words: string, anchor: string, more = '') =>
  `<text x="${px(x)}" y="${px(y)}" text-anchor="${anchor}" fill="${INK}"${more}>${escaped(words)}</text>`;

const escaped = (words: string) => words.replaceAll('&', '&amp;').replaceAll('<', '&lt;').replaceAll('"', '&quot;');
