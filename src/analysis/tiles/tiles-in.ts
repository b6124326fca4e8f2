/** The tiles of some kinds of period, or of a span. */
import type { Analysis, PeriodKind, Span } from '../model.ts';
import { type Tiles, tileAt } from './tiles.ts';

/** Asked again and again of the same few kinds, and long. */
const kept = new WeakMap<Analysis['periods'], Map<string, readonly number[]>>();

/** Indices of the tiles that begin within a period of one of the kinds, in order. */
export function tilesIn(
  { tiles, periods }: Pick<Analysis, 'tiles' | 'periods'>,
  kinds: readonly PeriodKind[],
): readonly number[] {
  const own = kept.get(periods) ?? new Map<string, readonly number[]>();
  kept.set(periods, own);
  const key = kinds.join();
  const found = own.get(key) ?? tilesOf(tiles, periods, kinds);
  own.set(key, found);
  return found;
}

function tilesOf({ n, t0 }: Tiles, periods: Analysis['periods'], kinds: readonly PeriodKind[]): number[] {
  const runs: [from: number, to: number][] = [];
  let k = 0;
  for (const { kind, start, end } of periods) {
    if (!kinds.includes(kind)) continue;
    while (k < n && t0[k] < start) k++;
    const from = k;
    while (k < n && t0[k] < end) k++;
    runs.push([from, k]);
  }
  return numbersOf(runs);
}

/** Of as much room as they need from the start: a list of many that grows is copied again and again. */
function numbersOf(runs: readonly (readonly [from: number, to: number])[]): number[] {
  const found = new Array<number>(runs.reduce((sum, [from, to]) => sum + to - from, 0));
  let at = 0;
  for (const [from, to] of runs) for (let k = from; k < to; k++) found[at++] = k;
  return found;
}

/** Indices of the tiles that lie whole within a span, in order. */
export function tilesWithin(tiles: Tiles, { start, end }: Span): number[] {
  let from = tileAt(tiles, start);
  while (from < tiles.n && tiles.t0[from] < start) from++;
  let to = from;
  while (to < tiles.n && tiles.t1[to] <= end) to++;
  return numbersOf([[from, to]]);
}

/** The same of several spans that do not overlap. */
export function tilesWithinAll(tiles: Tiles, spans: readonly Span[]): Int32Array {
  const found = new Int32Array(tiles.n);
  let n = 0;
  for (const { start, end } of spans)
    for (let k = tileAt(tiles, start); k < tiles.n && tiles.t1[k] <= end; k++) if (tiles.t0[k] >= start) found[n++] = k;
  return found.subarray(0, n);
}

/** With the tile before the first and the one behind the last, which may hold the change of current at either end. */
export function withEdges({ n }: Tiles, chosen: ArrayLike<number>): Int32Array {
  if (chosen.length === 0) return new Int32Array(0);
  const [first, last] = [chosen[0], chosen[chosen.length - 1]];
  const [before, behind] = [first > 0 ? 1 : 0, last + 1 < n ? 1 : 0];
  const all = new Int32Array(before + chosen.length + behind);
  all.set(chosen, before);
  if (before) all[0] = first - 1;
  if (behind) all[all.length - 1] = last + 1;
  return all;
}
