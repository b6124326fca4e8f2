/**
 * Summary tiles: the whole log in bounded memory. Each tile covers [t0, t1) and keeps the minimum and maximum of every
 * column, so that no spike is averaged away. Tiles follow each other in time without overlap; where one does not begin
 * where the last ended, there is no data between them.
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
  /** Integrals by the trapezium rule, A·s, both positive. */
  readonly inAs: Float64Array;
  readonly outAs: Float64Array;
  /** Mean absolute difference of neighbouring current (voltage) readings: how restless the tile is. */
  readonly iRough: Float64Array;
  readonly vRough: Float64Array;
  /** °C */
  readonly temp: Float64Array;
  /** V, one array a channel: extremes; a channel is active in a tile when the extreme passes its threshold. */
  readonly chMin: readonly Float64Array[];
  readonly chMax: readonly Float64Array[];
}
