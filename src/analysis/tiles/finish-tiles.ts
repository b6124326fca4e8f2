/** What can be settled only when the whole log is known: which odd intervals were gaps, and the sign of current. */
import type { LogAccount } from '../../log/block.ts';
import type { Span } from '../model.ts';
import { columnsOf, mergeTiles, type TileStore } from './tile-store.ts';
import type { Tiles } from './tiles.ts';

/**
 * Takes the gaps that the reader found out of the store; what stays of the odd intervals are ordinary tiles. The reading
 * that ends a gap goes to the tile after it; a lone row between two gaps covers no time and is left out.
 */
export function settleBridges(store: TileStore, gaps: LogAccount['gaps']): void {
  const columns = columnsOf(store);
  let kept = 0;
  let gap = 0;
  let afterGap = false;
  for (let k = 0; k < store.n; k++) {
    while (gap < gaps.length && gaps[gap].at < store.t0[k]) gap++;
    const isGap = store.bridge[k] === 1 && gaps[gap]?.at < store.t1[k];
    if (afterGap && !isGap) mergeTiles(store, kept, k);
    else if (kept !== k) for (const column of columns) column[kept] = column[k];
    store.bridge[kept] = 0;
    afterGap = isGap;
    if (isGap) keepLastReading(store, kept);
    else kept++;
  }
  store.n = kept;
}

/** Makes a tile of one interval a tile of the one reading at its end. */
function keepLastReading(store: TileStore, k: number): void {
  store.t0[k] = store.t1[k];
  store.v[k] = store.vMax[k];
  store.i[k] = store.iMax[k];
  store.iCov[k] = 0;
  store.netAs[k] = 0;
  store.jumpsAs2[k] = 0;
  store.turnsAs2[k] = 0;
  store.steps[k] = 0;
}

/** Turns the sign of current round within `span`, in place. */
export function flipTiles(tiles: Tiles, { start, end }: Span): void {
  for (let k = 0; k < tiles.n; k++) {
    if (tiles.t0[k] < start || tiles.t1[k] > end) continue;
    tiles.i[k] = -tiles.i[k];
    tiles.netAs[k] = -tiles.netAs[k];
    const min = tiles.iMin[k];
    tiles.iMin[k] = -tiles.iMax[k];
    tiles.iMax[k] = -min;
  }
}
