/** What can be settled only when the whole log is known: which odd intervals were gaps, and the sign of current. */
import type { StepCounter } from './steps.ts';
import { columnsOf, type TileStore } from './tile-store.ts';
import type { Tiles } from './tiles.ts';

/** An interval that comes this often is the logger's way of logging, not a gap. */
const COMMON = 20;
/** So is one that is followed by a step of its own size: the logger has slowed down. */
const LIKE_NEXT = 3;

/** Takes the gaps out of the store; what stays of the odd intervals are ordinary tiles. */
export function settleBridges(store: TileStore, steps: StepCounter): void {
  const columns = columnsOf(store);
  let kept = 0;
  for (let k = 0; k < store.n; k++) {
    const next = store.bridge[k];
    if (!Number.isNaN(next) && isGap(store.t1[k] - store.t0[k], next, steps)) continue;
    if (kept !== k) for (const column of columns) column[kept] = column[k];
    store.bridge[kept++] = Number.NaN;
  }
  store.n = kept;
}

function isGap(dt: number, next: number, steps: StepCounter): boolean {
  const slowedDown = Number.isFinite(next) && dt <= LIKE_NEXT * next;
  return !slowedDown && steps.like(dt) < COMMON;
}

/** Turns the sign of current round, in place. */
export function flipTiles(tiles: Tiles): void {
  for (let k = 0; k < tiles.n; k++) {
    tiles.i[k] = -tiles.i[k];
    tiles.netAs[k] = -tiles.netAs[k];
    const min = tiles.iMin[k];
    tiles.iMin[k] = -tiles.iMax[k];
    tiles.iMax[k] = -min;
  }
}
