import { describe, expect, it } from 'vitest';
import { createTileBuilder } from '../../../src/analysis/tiles/tile-builder.ts';
import type { TileStore } from '../../../src/analysis/tiles/tile-store.ts';
import type { SampleBlock } from '../../../src/log/block.ts';
import { blockOf, log, type Row, START, stretch, sum, tilesOf } from '../blocks.ts';

/** `rows` rows made one after another, in blocks of 8192 that are used again. */
function* rowsOf(rows: number, at: (n: number) => Row): Generator<SampleBlock> {
  for (let from = 0; from < rows; from += 8192) {
    yield blockOf(Array.from({ length: Math.min(8192, rows - from) }, (_, k) => at(from + k)));
  }
}

const indices = (tiles: TileStore) => [...Array(tiles.n).keys()];
const lowest = (column: Float64Array, n: number) => Math.min(...column.subarray(0, n));
const highest = (column: Float64Array, n: number) => Math.max(...column.subarray(0, n));

describe('three million rows under a small ceiling', () => {
  const CEILING = 2048;
  const ROWS = 3_000_000;
  // A month at 1 Hz: quiet nights, busy hours, one spike each way, one hole. The hole is one in 3 million.
  const HOLE_AFTER = 1_500_000;
  const HOLE_S = 7200;
  const at = (n: number): Row => {
    const busy = n % 40_000 > 38_000;
    const i = n === 700_001 ? -431 : n === 2_100_007 ? 97 : busy ? -4 + 2 * Math.sin(n) : -0.02 + 0.002 * Math.sin(n);
    const v = n === 700_001 ? 8.125 : n === 2_100_007 ? 15.875 : busy ? 12.3 : 12.6 - n * 1e-7;
    return { t: START + n + (n > HOLE_AFTER ? HOLE_S - 1 : 0), v, i, temp: 10, ch: [n === 900_000 ? 12.5 : 0.1] };
  };

  const tiles = tilesOf(rowsOf(ROWS, at), CEILING);
  const intervals = function* () {
    for (let n = 1; n < ROWS; n++) if (n !== HOLE_AFTER + 1) yield n;
  };

  it('stay under it', () => {
    expect(tiles.t0.length).toBe(CEILING);
    expect(tiles.n).toBeLessThanOrEqual(CEILING);
  });

  it('keep every second and every ampere-second', () => {
    let netAs = 0;
    for (const n of intervals()) netAs += 0.5 * ((at(n).i ?? 0) + (at(n - 1).i ?? 0));
    expect(sum(tiles.iCov, tiles.n)).toBeCloseTo(ROWS - 2, 3);
    expect(sum(tiles.netAs, tiles.n) / netAs).toBeCloseTo(1, 9);
    expect(sum(tiles.rows, tiles.n)).toBe(ROWS);
  });

  it('keep the spikes of every column', () => {
    expect(lowest(tiles.vMin, tiles.n)).toBe(8.125);
    expect(highest(tiles.vMax, tiles.n)).toBe(15.875);
    expect(lowest(tiles.iMin, tiles.n)).toBe(-431);
    expect(highest(tiles.iMax, tiles.n)).toBe(97);
    expect(highest(tiles.chMax[0], tiles.n)).toBe(12.5);
  });

  it('keep a spike in a tile of its own time, and the hole as it was', () => {
    const k = indices(tiles).find((j) => tiles.iMin[j] === -431) ?? -1;
    expect(tiles.t0[k]).toBeLessThanOrEqual(START + 700_001);
    expect(tiles.t1[k]).toBeGreaterThanOrEqual(START + 700_001);
    const holes = indices(tiles).filter((j) => j > 0 && tiles.t0[j] - tiles.t1[j - 1] > 0.5);
    expect(holes.map((j) => [tiles.t1[j - 1] - START, tiles.t0[j] - START])).toEqual([
      [HOLE_AFTER, HOLE_AFTER + HOLE_S],
    ]);
  });
});

/** Logs that give the merging nothing that looks alike: it must end all the same, and lose nothing. */
describe('a log that merges badly', () => {
  const CEILING = 512;

  it('that pauses after each burst', () => {
    // Ten rows a second apart, then half a minute of nothing, 3000 times: a habit, no gap.
    const at = (n: number): Row => ({ t: START + Math.floor(n / 10) * 39 + (n % 10), v: 12.6, i: -0.02 });
    const tiles = tilesOf(rowsOf(30_000, at), CEILING);
    expect(tiles.n).toBeLessThanOrEqual(CEILING);
    expect(sum(tiles.iCov, tiles.n)).toBeCloseTo(3000 * 39 - 30, 3);
    expect(sum(tiles.netAs, tiles.n)).toBeCloseTo(-0.02 * (3000 * 39 - 30), 6);
  });

  it('whose current comes and goes by the hour', () => {
    const at = (n: number): Row => ({ t: START + n, v: 12.6, i: n % 20 < 10 ? -1 : Number.NaN });
    const tiles = tilesOf(rowsOf(40_000, at), CEILING);
    expect(tiles.n).toBeLessThanOrEqual(CEILING);
    expect(sum(tiles.netAs, tiles.n)).toBeCloseTo(-sum(tiles.iCov, tiles.n), 6);
    expect(sum(tiles.rows, tiles.n)).toBe(40_000);
  });

  it('of wild voltages', () => {
    const at = (n: number): Row => ({ t: START + n, v: n % 2 ? 0 : 30, i: n % 3 ? 500 : -500 });
    const tiles = tilesOf(rowsOf(20_000, at), CEILING);
    expect(tiles.n).toBeLessThanOrEqual(CEILING);
    expect([lowest(tiles.vMin, tiles.n), highest(tiles.vMax, tiles.n)]).toEqual([0, 30]);
    expect(tiles.t1[tiles.n - 1] - tiles.t0[0]).toBe(19_999);
  });
});

describe('merging', () => {
  it('begins with what is quiet: a short wake in a long night keeps its time', () => {
    const night = { v: 12.6, i: -0.02 };
    const block = log([stretch(9000, 1, night), stretch(30, 1, { v: 12.5, i: -3 }), stretch(9000, 1, night)]);
    const tiles = tilesOf(block, 1024);
    const awake = indices(tiles).filter((k) => tiles.i[k] < -2.9);
    const seconds = awake.reduce((total, k) => total + tiles.t1[k] - tiles.t0[k], 0);
    expect(seconds).toBeCloseTo(29, 9);
    expect(tiles.n).toBeLessThanOrEqual(1024);
  });

  it('leaves the last hours no more detail than the first, once those were thinned', () => {
    const tiles = tilesOf(log([stretch(1800, 1, { v: 12.6, i: -0.02 })]), 1024);
    const spans = indices(tiles).map((k) => tiles.t1[k] - tiles.t0[k]);
    // Nothing happens: each tile but the last of either part has the half minute that merged ones may span.
    expect(spans.filter((seconds) => seconds < 29).length).toBeLessThanOrEqual(2);
    expect(sum(tiles.rows, tiles.n)).toBe(1800);
  });

  it('leaves a log that never was too long as it is', () => {
    expect(tilesOf(log([stretch(1000, 1, { v: 12.6, i: -0.02 })]), 1024).n).toBe(999);
  });

  it('weighs restlessness by its readings and voltage by its time', () => {
    const builder = createTileBuilder(0, 4);
    // Tile after tile of 1 s; the ceiling of four forces a merge before the fifth.
    builder.push(blockOf([0, 1, 2, 3, 4, 5].map((s) => ({ t: START + s, v: 12 + 0.001 * (s % 2), i: -1 }))));
    const { store } = builder.finish();
    expect(sum(store.rows, store.n)).toBe(6);
    expect(store.v[0]).toBeCloseTo(12.0005, 9);
    for (let k = 0; k < store.n; k++) expect(store.vRough[k]).toBeCloseTo(0.001, 9);
  });
});
