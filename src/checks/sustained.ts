/** Extremes of the log's tiles that lasted: one reading proves nothing about a battery. */
import type { Tiles } from '../analysis/tiles.ts';

/** What lasts this long is no spike, s. Common practice, no source. */
export const SUSTAINED_S = 60;

export interface Sustained {
  /** The lowest (highest) level that the column kept at or beyond for the time asked, together. */
  readonly value: number;
  /** Begin and end of the most extreme tile, s since the epoch. */
  readonly from: number;
  readonly to: number;
}

/** Null where the chosen tiles have no reading, or cover less than the time. */
export function sustained(
  tiles: Tiles,
  column: Float64Array,
  chosen: Iterable<number>,
  side: 'lowest' | 'highest',
  seconds = SUSTAINED_S,
): Sustained | null {
  const sign = side === 'lowest' ? 1 : -1;
  const order = [...chosen].filter((k) => !Number.isNaN(column[k])).sort((a, b) => sign * (column[a] - column[b]));
  let lastedS = 0;
  for (const k of order) {
    lastedS += tiles.t1[k] - tiles.t0[k];
    if (lastedS >= seconds) return { value: column[k], from: tiles.t0[order[0]], to: tiles.t1[order[0]] };
  }
  return null;
}

/** Time that the chosen tiles spend below a level, s. */
export function belowS(tiles: Tiles, column: Float64Array, chosen: Iterable<number>, level: number): number {
  let seconds = 0;
  for (const k of chosen) if (column[k] < level) seconds += tiles.t1[k] - tiles.t0[k];
  return seconds;
}
