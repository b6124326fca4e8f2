/** Stands: from one key-off to the next key-on, with what lies between that must not count. */
import { median } from '../../battery/statistics.ts';
import { joined, type TileSpan, type Tiles } from '../tiles/tiles.ts';
import type { Label } from './label.ts';

/** Those not labelled `parked` or `top-up` do not count. */
export interface StandTiles extends TileSpan {
  readonly keyOffInLog: boolean;
  readonly keyOnInLog: boolean;
}

/** A hole longer than this may hide a drive, s. */
const LONG_HOLE_S = 600;
/** How much on either side of it is looked at: enough tiles to average out a sensor's noise, not too far away, s. */
const BESIDE_TILES = 60;
const BESIDE_S = 300;

export function findStands(tiles: Tiles, labels: readonly Label[]): StandTiles[] {
  const stands: StandTiles[] = [];
  const ends = (k: number) => k < 0 || k >= tiles.n || isUse(labels[k]);
  let first = -1;
  let keyOff = false;
  for (let k = 0; k <= tiles.n; k++) {
    if (first >= 0 && k < tiles.n && !isUse(labels[k]) && mayHideDrive(tiles, k)) {
      stands.push({ first, last: k - 1, keyOffInLog: keyOff, keyOnInLog: false });
      first = k;
      keyOff = false;
    } else if (first < 0 && !ends(k)) {
      first = k;
      keyOff = k > 0 && isUse(labels[k - 1]) && tiles.t0[k] - tiles.t1[k - 1] < 60;
    } else if (first >= 0 && ends(k)) {
      const keyOn = k < tiles.n && tiles.t0[k] - tiles.t1[k - 1] < 60;
      stands.push({ first, last: k - 1, keyOffInLog: keyOff, keyOnInLog: keyOn });
      first = -1;
    }
  }
  return stands.filter((stand) => hasParked(labels, stand));
}

const isUse = (label: Label) => label === 'driving' || label === 'cranking' || label === 'key-on';

function hasParked(labels: readonly Label[], stand: StandTiles): boolean {
  for (let k = stand.first; k <= stand.last; k++) if (labels[k] === 'parked') return true;
  return false;
}

/** A long hole parts a stand unless the draw goes on as it was and the battery was not charged in between. */
function mayHideDrive(tiles: Tiles, k: number): boolean {
  if (k === 0 || tiles.t0[k] - tiles.t1[k - 1] < LONG_HOLE_S) return false;
  const before = drawBeside(tiles, k - 1, -1);
  const after = drawBeside(tiles, k, 1);
  const sameDraw = Math.abs(before - after) <= Math.max(0.02, 0.3 * Math.abs(before));
  return !(sameDraw && tiles.v[k] <= tiles.v[k - 1] + 0.1);
}

/** Median draw of a few tiles from `k` on, so that a noisy sensor's single reading decides nothing. */
function drawBeside(tiles: Tiles, k: number, step: -1 | 1): number {
  const draws = [-tiles.i[k]];
  for (let j = k; draws.length < BESIDE_TILES && joined(tiles, step > 0 ? j + 1 : j); j += step) {
    if (Math.abs(tiles.t0[j + step] - tiles.t0[k]) > BESIDE_S) break;
    draws.push(-tiles.i[j + step]);
  }
  return median(draws);
}
