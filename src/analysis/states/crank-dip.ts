/** Starts of the engine as the voltage alone shows them: a dip that only a starter makes just before the generator takes over. */

import { perTwelveVolt, type SystemVoltage } from '../../battery/chemistry.ts';
import { joined, type Tiles, tileAt } from '../tiles/tiles.ts';
import { isSupplyLost } from './supply.ts';

/** How deep, V for 12 V; and how long before, s. */
const DIP_V = 1;
const BEFORE_S = 40;
/** Tiles longer than this need not hold the dip's own current, s. */
const LONGEST_TILE_S = 12;

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
  systemV: SystemVoltage,
): { low: number; before: number; dipV: number } | null {
  const end = tileAt(tiles, at + 2);
  let low = -1;
  for (let k = tileAt(tiles, at - BEFORE_S); k <= end && k < tiles.n; k++)
    if (low < 0 || tiles.vMin[k] < tiles.vMin[low]) low = k;
  if (low < BESIDE || !joined(tiles, low) || !joined(tiles, low - 1)) return null;
  if (tiles.t1[low] - tiles.t0[low] > LONGEST_TILE_S || isSupplyLost(tiles.vMin[low], systemV)) return null;
  const leastV = DIP_V * perTwelveVolt(systemV);
  let before = low - BESIDE;
  // In a long crank the deepest moment may come late.
  const isDip = () => tiles.v[before] - tiles.vMin[low] >= leastV;
  while (!isDip() && before > 0 && joined(tiles, before) && tiles.t0[before - 1] > tiles.t0[low] - CRANKED_S) before--;
  return isDip() ? { low, before, dipV: tiles.v[before] - tiles.vMin[low] } : null;
}

/** A start between two rows: it leaves the voltage lower, by so much, V, within so long, s; */
const LEAVES_V = 0.2;
const LEAVES_S = 20;
/** then the generator lifts it, by so much, V, within so long, s (some come in slowly on purpose), as no charger does; in rows no further apart than this, s. */
const LEAPS_V = 1;
const LEAPS_S = 20;
const LEAP_STEP_S = 3;

/** Whether the voltage before `at`, where feeding begins, goes down and then up as an engine makes it that starts between two rows. */
export function leapsAt(tiles: Tiles, at: number, systemV: SystemVoltage): boolean {
  const scale = perTwelveVolt(systemV);
  const isNear = (k: number) => joined(tiles, k + 1) && !isSupplyLost(tiles.vMin[k], systemV);
  const first = tileAt(tiles, at);
  let low = first;
  for (let k = first - 1; k >= 0 && tiles.t1[k] >= at - LEAPS_S && isNear(k); k--)
    if (tiles.vMin[k] <= tiles.vMin[low]) low = k;
  if ((tiles.t1[low] - tiles.t0[low]) / tiles.rows[low] > LEAP_STEP_S) return false;
  let before = Number.NaN;
  for (let k = low - 1; k >= 0 && tiles.t1[k] >= tiles.t0[low] - LEAVES_S && isNear(k); k--)
    if (!(tiles.vMax[k] <= before)) before = tiles.vMax[k];
  let lifted = Number.NaN;
  for (let k = low; k < tiles.n && tiles.t0[k] <= tiles.t1[low] + LEAPS_S && (k === low || joined(tiles, k)); k++)
    if (!(tiles.vMax[k] <= lifted)) lifted = tiles.vMax[k];
  const lowV = tiles.vMin[low];
  return before - lowV >= LEAVES_V * scale && lifted - lowV >= LEAPS_V * scale;
}
