/**
 * What a sensor hides that reads one and the same number while the vehicle sleeps. Where that is nought, the steps that it
 * has elsewhere say nothing: many a logger makes nought of all that is small. The least reading that the log has bounds it.
 */

import type { Tiles } from '../tiles/tiles.ts';
import { MOST_ASLEEP_A } from './sleep.ts';

/** Less is nought, A. */
const NOUGHT_A = 1e-9;

/**
 * For the tiles of a sleep: how far their mean draw may be off without being seen, A; 0 where readings show all there is.
 * Stretches that read nought between a lamp's pulses hide as much as a whole night of it.
 *
 * @param stepA smallest step of the current column, A; 0 where unknown. Then a step is no larger than the number read,
 * which is a whole number of them, and rounding hides half of it.
 */
export function createUnseen(tiles: Tiles, stepA: number): (asleep: readonly number[]) => number {
  let leastA = MOST_ASLEEP_A;
  for (let k = 0; k < tiles.n; k++)
    for (const amps of [Math.abs(tiles.iMin[k]), Math.abs(tiles.iMax[k])])
      if (amps > NOUGHT_A && amps < leastA) leastA = amps;

  return (asleep) => {
    let seconds = 0;
    let hiddenAs = 0;
    for (const k of asleep) {
      const mostA = Math.max(Math.abs(tiles.iMin[k]), Math.abs(tiles.iMax[k]));
      if (Number.isNaN(mostA)) continue;
      const hiddenA = mostA <= NOUGHT_A ? leastA : stepA > 0 ? 0 : mostA / 2;
      hiddenAs += hiddenA * (tiles.t1[k] - tiles.t0[k]);
      seconds += tiles.t1[k] - tiles.t0[k];
    }
    return seconds > 0 ? hiddenAs / seconds : 0;
  };
}
