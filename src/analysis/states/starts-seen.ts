/** Starts of the engine as the voltage alone shows them, and what current came with each. */
import type { Session } from '../../manifest/session.ts';
import type { Analysis } from '../model.ts';
import { joined, type Tiles, tileAt } from '../tiles/tiles.ts';
import { findClipping } from './clipping.ts';
import { mostResistanceOhm } from './load-steps.ts';
import { isSupplyLost } from './supply.ts';

/** A dip that only a starter makes just before the generator takes over, V for 12 V; and how long before, s. */
const DIP_V = 1;
const BEFORE_S = 40;
/** Of the range: a reading this near to its end may have gone beyond it. */
const NEAR_END = 0.98;
/** Tiles longer than this need not hold the dip's own current, s. */
const LONGEST_TILE_S = 12;

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

/** How many tiles before the deepest one may belong to the same crank, and for how long a crank may have gone on before it, s. */
const BESIDE = 2;
const CRANKED_S = 8;

/**
 * Tile of the deepest voltage in the 40 s before `at` where that is a dip that only a starter makes, the tile before it from
 * which it fell, and the depth, V.
 */
export function dipBefore(
  tiles: Tiles,
  at: number,
  systemV: number,
): { low: number; before: number; dipV: number } | null {
  const end = tileAt(tiles, at + 2);
  let low = -1;
  for (let k = tileAt(tiles, at - BEFORE_S); k <= end && k < tiles.n; k++)
    if (low < 0 || tiles.vMin[k] < tiles.vMin[low]) low = k;
  if (low < BESIDE || !joined(tiles, low) || !joined(tiles, low - 1)) return null;
  if (tiles.t1[low] - tiles.t0[low] > LONGEST_TILE_S || isSupplyLost(tiles.vMin[low], systemV)) return null;
  const leastV = (DIP_V * systemV) / 12;
  let before = low - BESIDE;
  // In a long crank the deepest moment may come late.
  const isDip = () => tiles.v[before] - tiles.vMin[low] >= leastV;
  while (!isDip() && before > 0 && joined(tiles, before) && tiles.t0[before - 1] > tiles.t0[low] - CRANKED_S) before--;
  return isDip() ? { low, before, dipV: tiles.v[before] - tiles.vMin[low] } : null;
}

/** One for each drive that begins with a deep dip. None in a vehicle without a starter. */
export function findSeenStarts(analysis: Analysis, session: Session): SeenStart[] {
  if (session.vehicle.powertrain === 'electric') return [];
  const { tiles } = analysis;
  const mostOhm = mostResistanceOhm(session);
  const clippedA = findClipping(analysis, session.log.columns.current?.rangeA)?.levelA ?? Number.POSITIVE_INFINITY;
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
    const isClipped = mostA >= NEAR_END * clippedA;
    return [{ at: tiles.t0[low], dipV, drawA, matched: isClipped || drawA * mostOhm >= dipV, isClipped, tileS }];
  });
}
