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
  const found: number[] = [];
  let k = 0;
  for (const { kind, start, end } of periods) {
    if (!kinds.includes(kind)) continue;
    while (k < n && t0[k] < start) k++;
    for (; k < n && t0[k] < end; k++) found.push(k);
  }
  return found;
}

/** Indices of the tiles that lie whole within a span, in order. */
export function tilesWithin(tiles: Tiles, { start, end }: Span): number[] {
  const found: number[] = [];
  for (let k = tileAt(tiles, start); k < tiles.n && tiles.t1[k] <= end; k++) if (tiles.t0[k] >= start) found.push(k);
  return found;
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
  return Int32Array.from([
    ...(first > 0 ? [first - 1] : []),
    ...Array.from(chosen),
    ...(last + 1 < n ? [last + 1] : []),
  ]);
}
