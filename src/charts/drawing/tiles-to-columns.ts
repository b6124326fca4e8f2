/**
 * Tiles become at most one column for each pixel or so of a chart. A column keeps minimum, maximum and time-weighted mean of
 * its tiles, so that the band drawn reaches every extreme of the log (the idea of M4: Jugel et al., PVLDB 7(10), 2014).
 */
import type { Tiles } from '../../analysis/tiles/tiles.ts';

export interface Column {
  /** s since the epoch: where its first tile begins and its last one ends. */
  readonly t0: number;
  readonly t1: number;
  readonly min: number;
  readonly max: number;
  readonly mean: number;
}

type Growing = { -readonly [Key in keyof Column]: Column[Key] };

/** Columns without a gap between them. */
export type Run = readonly Column[];

export interface ColumnsOf {
  readonly mean: Float64Array;
  readonly min: Float64Array;
  readonly max: Float64Array;
}

/** About one a pixel of the widest plot. */
const MAX_COLUMNS = 640;

/**
 * Columns of one quantity from `fromS` to `toS` (s since the epoch); tiles that reach in from outside count.
 * A new run begins after every gap in the tiles, or stretch without a reading, that is not lost within one column.
 */
export function tilesToColumns(
  tiles: Pick<Tiles, 'n' | 't0' | 't1'>,
  quantity: ColumnsOf,
  fromS: number,
  toS: number,
  maxColumns: number = MAX_COLUMNS,
): readonly Run[] {
  const columnS = (toS - fromS) / maxColumns;
  const runs: Run[] = [];
  let run: Growing[] = [];
  let place = -1;
  let heldS = 0;
  for (let k = 0; k < tiles.n; k++) {
    const t0 = tiles.t0[k];
    const t1 = tiles.t1[k];
    const mean = quantity.mean[k];
    if (t1 <= fromS || t0 >= toS || Number.isNaN(mean)) continue;
    const middle = Math.min(Math.max((t0 + t1) / 2, fromS), toS);
    const here = Math.min(Math.floor((middle - fromS) / columnS), maxColumns - 1);
    const last = run.at(-1);
    if (last !== undefined && here === place) {
      last.t1 = t1;
      last.min = Math.min(last.min, quantity.min[k]);
      last.max = Math.max(last.max, quantity.max[k]);
      last.mean = (last.mean * heldS + mean * (t1 - t0)) / (heldS + (t1 - t0));
      heldS += t1 - t0;
      continue;
    }
    // A thousandth of a tile allows for rounding in times near 1.8e9 s.
    if (last !== undefined && t0 - last.t1 > (t1 - t0) / 1000) {
      runs.push(run);
      run = [];
    }
    run.push({ t0, t1, min: quantity.min[k], max: quantity.max[k], mean });
    place = here;
    heldS = t1 - t0;
  }
  if (run.length > 0) runs.push(run);
  return runs;
}

/** A point of a line or band; null values break it. */
export interface BandPoint {
  readonly t: number;
  readonly lo: number | null;
  readonly hi: number | null;
  readonly y: number | null;
}

/**
 * Points through the middles of columns; the first and last of a run reach to its very edges, so that a lone column is seen
 * and a gap is as wide as it was. Runs are parted by a point of nulls. `x` turns s since the epoch into the chart's x.
 */
export function bandPoints(runs: readonly Run[], x: (s: number) => number, y: (value: number) => number): BandPoint[] {
  const points: BandPoint[] = [];
  const add = (s: number, column: Column) =>
    points.push({ t: x(s), lo: y(column.min), hi: y(column.max), y: y(column.mean) });
  for (const run of runs) {
    if (points.length > 0) points.push({ t: x(run[0].t0), lo: null, hi: null, y: null });
    add(run[0].t0, run[0]);
    for (const column of run.slice(1, -1)) add((column.t0 + column.t1) / 2, column);
    add(run[run.length - 1].t1, run[run.length - 1]);
  }
  return points;
}
