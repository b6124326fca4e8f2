/** What can be settled only when the whole log is known: which odd intervals were gaps, and the sign of current. */
import type { LogAccount } from '../log/block.ts';
import { columnsOf, type TileStore } from './tile-store.ts';
import type { Tiles } from './tiles.ts';

/** Takes the gaps that the reader found out of the store; what stays of the odd intervals are ordinary tiles. */
export function settleBridges(store: TileStore, gaps: LogAccount['gaps']): void {
  const before = new Set(gaps.map((gap) => gap.at));
  const columns = columnsOf(store);
  let kept = 0;
  for (let k = 0; k < store.n; k++) {
    if (store.bridge[k] === 1 && before.has(store.t0[k])) continue;
    if (kept !== k) for (const column of columns) column[kept] = column[k];
    store.bridge[kept++] = 0;
  }
  store.n = kept;
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
