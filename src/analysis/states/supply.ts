/**
 * Readings that come from no battery in use: it was disconnected, or the logger's own supply was gone. Parts of the system
 * voltage. Below: the starting profiles of ISO 16750-2 end at 3 V for 12 V (level III, second-hand). Above: a regulator
 * that has failed may reach 18 V and more, but no battery lets itself be lifted to 20 V; common practice, no source.
 */
import { joined, type Tiles } from '../tiles/tiles.ts';

const LOW = 0.25;
const HIGH = 5 / 3;
/** Readings between two such that stand for less than this are of the same kind, s. */
const BETWEEN_S = 3;

export function isSupplyLost(volts: number, systemV: number): boolean {
  return volts < LOW * systemV || volts > HIGH * systemV;
}

/** Per tile: the supply was lost, nothing is known of voltage and current, or null where all is well. */
export type LostSupply = readonly ('disconnected' | 'no-data' | null)[];

export function findLostSupply(tiles: Tiles, systemV: number): LostSupply {
  const isLost = (k: number) => isSupplyLost(tiles.v[k], systemV);
  // The tiles at both edges hold part of the change: the first has a reading of each kind, the last begins from one.
  const isEdge = (k: number) =>
    (joined(tiles, k) && isLost(k - 1)) ||
    (joined(tiles, k + 1) && isLost(k + 1) && [tiles.vMin[k], tiles.vMax[k]].some((v) => isSupplyLost(v, systemV)));
  const lost = Array.from({ length: tiles.n }, (_, k) => {
    if (Number.isNaN(tiles.v[k]) && Number.isNaN(tiles.i[k])) return 'no-data';
    return isLost(k) || isEdge(k) ? 'disconnected' : null;
  });
  let last = -1;
  for (let k = 0; k < tiles.n; k++) {
    if (k > 0 && !joined(tiles, k)) last = -1;
    if (lost[k] === null) continue;
    if (last >= 0 && tiles.t0[k] - tiles.t1[last] <= BETWEEN_S) lost.fill(lost[k], last + 1, k);
    last = k;
  }
  return lost;
}
