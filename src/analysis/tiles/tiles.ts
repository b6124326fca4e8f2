/**
 * Summary tiles: the whole log in bounded memory. Each tile covers [t0, t1] between two rows and keeps the minimum and
 * maximum of every column, so that no spike is averaged away. Tiles follow each other in time without overlap; where one
 * does not begin where the last ended, there is no data between them.
 */
export interface Tiles {
  readonly n: number;
  /** s since the epoch. */
  readonly t0: Float64Array;
  readonly t1: Float64Array;
  /** Rows in the tile. */
  readonly rows: Float64Array;
  /** Time-weighted mean, and extremes, V. NaN where the tile has no reading. */
  readonly v: Float64Array;
  readonly vMin: Float64Array;
  readonly vMax: Float64Array;
  /** A, positive into the battery. NaN where the tile has no reading. */
  readonly i: Float64Array;
  readonly iMin: Float64Array;
  readonly iMax: Float64Array;
  /** Time over which current is known, s, and its net charge into the battery over that time, A·s (trapezium rule). */
  readonly iCov: Float64Array;
  readonly netAs: Float64Array;
  /** Sum over its readings of (change of current × step)², (A·s)²: what the place of a change within a step leaves open. */
  readonly jumpsAs2: Float64Array;
  /** Sum of the products of each change × step with the one before it, (A·s)²: below zero where readings go to and fro. */
  readonly turnsAs2: Float64Array;
  /** Mean absolute difference of neighbouring current (voltage) readings: how restless the tile is. */
  readonly iRough: Float64Array;
  readonly vRough: Float64Array;
  /** °C */
  readonly temp: Float64Array;
  /** V, one array a channel: extremes; a channel is active in a tile when the extreme passes its threshold. */
  readonly chMin: readonly Float64Array[];
  readonly chMax: readonly Float64Array[];
}

/** Tiles first to last, both included. */
export interface TileSpan {
  readonly first: number;
  readonly last: number;
}

/** True when tile `k` begins where the one before it ends. */
export function joined(tiles: Tiles, k: number): boolean {
  return k > 0 && k < tiles.n && tiles.t0[k] - tiles.t1[k - 1] < 1e-6;
}

/** Index of the first tile that ends after `t`. */
export function tileAt(tiles: Tiles, t: number): number {
  let low = 0;
  let high = tiles.n;
  while (low < high) {
    const mid = (low + high) >> 1;
    if (tiles.t1[mid] > t) high = mid;
    else low = mid + 1;
  }
  return low;
}
