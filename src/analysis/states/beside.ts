/** What lies right beside a place in the log. */
import { median, weightedQuantile } from '../../battery/statistics.ts';
import { joined, type Tiles } from '../tiles/tiles.ts';

/** How far to look for what came before and after; as far as the second tile in a slow log, s. */
const NEAR_S = 15;
const NEAR_MOST_S = 1200;

/** Usual draw in the 15 s (two tiles in a slow log) to one side of tile `k`, which may hold part of the change; NaN without data. */
export function drawNear(tiles: Tiles, k: number, step: -1 | 1): number {
  const draws: number[] = [];
  if (k < 0 || k >= tiles.n) return Number.NaN;
  const from = step > 0 ? tiles.t0[k] : tiles.t1[k];
  for (let j = k; j >= 0 && j < tiles.n; j += step) {
    if (!joined(tiles, step > 0 ? j : j + 1)) break;
    const awayS = step > 0 ? tiles.t0[j] - from : from - tiles.t1[j];
    if (awayS > NEAR_S && (draws.length > 1 || awayS > NEAR_MOST_S)) break;
    if (!Number.isNaN(tiles.i[j])) draws.push(-tiles.i[j]);
  }
  if (draws.length > 1) draws.shift();
  return median(draws);
}

/** Somebody who leaves a vehicle is followed by a draw that lasts for longer, s. */
const LATER_S = 45;
const LATER_MOST_S = 90;

/** Usual draw 45 to 90 s after tile `k` begins, or in the first tile after that in a slow log; NaN without data. Merged tiles count for as long as they last. */
export function drawLater(tiles: Tiles, k: number): number {
  const draws: number[] = [];
  const lasting: number[] = [];
  for (let j = k; j < tiles.n && (j === k || joined(tiles, j)); j++) {
    const fromS = Math.max(LATER_S, tiles.t0[j] - tiles.t0[k]);
    if (fromS > LATER_MOST_S && draws.length > 0) break;
    const untilS = tiles.t1[j] - tiles.t0[k];
    if (!(untilS > fromS) || Number.isNaN(tiles.i[j]) || (j === k && tiles.rows[k] === 1)) continue;
    draws.push(-tiles.i[j]);
    lasting.push(Math.max(1, Math.min(untilS, LATER_MOST_S) - fromS));
  }
  return weightedQuantile(draws, lasting, 0.5);
}

/** Draw in the row where tile `k` begins, A, where rows are so far apart that it may be the only one of what it shows; NaN elsewhere. */
export const drawOfRow = (tiles: Tiles, k: number): number =>
  joined(tiles, k) && tiles.rows[k - 1] === 1 ? -tiles.iMin[k - 1] : Number.NaN;
