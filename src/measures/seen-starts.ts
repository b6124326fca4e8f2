/** Starts of the engine as the voltage alone shows them, and what current came with each. */
import { dipBefore } from '../analysis/states/crank-dip.ts';
import { clippingOf } from './clipping.ts';
import { mostResistanceOhm } from './load-steps.ts';
import { measure } from './measure.ts';

/** Of the range: a reading this near to its end may have gone beyond it. */
const NEAR_END = 0.98;

export interface SeenStart {
  readonly at: number;
  /** Fall of voltage, V, and the largest draw above what flowed before, A, within a tile of it. */
  readonly dipV: number;
  readonly drawA: number;
  /** True where the current is enough to explain the dip in any battery that is still in use, or ran out of the sensor's range. */
  readonly matched: boolean;
  readonly isClipped: boolean;
  /** Length of the tile, s: of a slow log's the dip and the draw may be of different moments. */
  readonly tileS: number;
}

/** One for each drive that begins with a deep dip. None in a vehicle without a starter. */
export const seenStarts = measure((analysis, session): SeenStart[] => {
  if (session.vehicle.powertrain === 'electric') return [];
  const { tiles } = analysis;
  const mostOhm = mostResistanceOhm(session);
  const clippedA = clippingOf(analysis, session)?.levelA;
  return analysis.drives.flatMap((drive) => {
    const dip = dipBefore(tiles, drive.start, session.vehicle.systemV);
    if (dip === null) return [];
    const { low, before, dipV } = dip;
    let drawA = 0;
    let mostA = 0;
    for (let k = low - 1; k <= low + 1 && k < tiles.n; k++) {
      const above = tiles.i[before] - tiles.iMin[k];
      if (above > drawA) drawA = above;
      if (-tiles.iMin[k] > mostA) mostA = -tiles.iMin[k];
    }
    if (Number.isNaN(tiles.i[before])) return [];
    const tileS = tiles.t1[low] - tiles.t0[low];
    const isClipped = clippedA !== undefined && mostA >= NEAR_END * clippedA;
    return [{ at: tiles.t0[low], dipV, drawA, matched: isClipped || drawA * mostOhm >= dipV, isClipped, tileS }];
  });
});
