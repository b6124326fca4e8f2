/**
 * What a sensor hides that reads one and the same number all through a sleep. Where that is nought, the steps that it has
 * elsewhere say nothing: many a logger makes nought of all that is small. The least reading that the log has bounds it.
 */
import { MOST_ASLEEP_A } from './sleep.ts';
import type { Tiles } from './tiles.ts';

/** Less is nought, A. */
const NOUGHT_A = 1e-9;

/**
 * For the tiles of a sleep: how far the draw may be off the one number read, A; 0 where readings differ.
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
    const known = asleep.filter((k) => !Number.isNaN(tiles.iMin[k]));
    const amps = tiles.iMin[known[0]];
    if (!known.every((k) => tiles.iMin[k] === amps && tiles.iMax[k] === amps)) return 0;
    if (Math.abs(amps) <= NOUGHT_A) return leastA;
    return stepA > 0 ? 0 : Math.abs(amps) / 2;
  };
}
