/** Extremes of the log's tiles that lasted: one reading proves nothing about a battery. */
import type { Tiles } from '../analysis/tiles/tiles.ts';

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
  const lastsS = (k: number) => tiles.t1[k] - tiles.t0[k];
  // The most extreme tiles that together last as long as asked, the most extreme one first.
  const kept: number[] = [];
  let keptS = 0;
  for (const k of chosen) {
    const level = sign * column[k];
    const last = kept.length - 1;
    if (Number.isNaN(level) || (keptS >= seconds && level >= sign * column[kept[last]])) continue;
    let place = last;
    while (place >= 0 && level < sign * column[kept[place]]) place--;
    kept.splice(place + 1, 0, k);
    keptS += lastsS(k);
    while (keptS - lastsS(kept[kept.length - 1]) >= seconds) keptS -= lastsS(kept.pop() as number);
  }
  if (keptS < seconds) return null;
  return { value: column[kept[kept.length - 1]], from: tiles.t0[kept[0]], to: tiles.t1[kept[0]] };
}

/** Time that the chosen tiles spend below a level, s. */
export function belowS(tiles: Tiles, column: Float64Array, chosen: Iterable<number>, level: number): number {
  let seconds = 0;
  for (const k of chosen) if (column[k] < level) seconds += tiles.t1[k] - tiles.t0[k];
  return seconds;
}
