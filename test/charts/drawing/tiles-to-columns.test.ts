import fc from 'fast-check';
import { describe, expect, test } from 'vitest';
import { bandPoints, tilesToColumns } from '../../../src/charts/drawing/tiles-to-columns.ts';

interface Tile {
  readonly gapS: number;
  readonly seconds: number;
  readonly low: number;
  readonly high: number;
  readonly share: number;
}

const tile: fc.Arbitrary<Tile> = fc.record({
  gapS: fc.oneof({ weight: 6, arbitrary: fc.constant(0) }, { weight: 1, arbitrary: fc.integer({ min: 1, max: 5000 }) }),
  seconds: fc.integer({ min: 1, max: 600 }),
  low: fc.integer({ min: -500, max: 100 }),
  high: fc.integer({ min: 0, max: 100 }),
  share: fc.double({ min: 0, max: 1, noNaN: true }),
});

function laid(tiles: readonly Tile[]) {
  let t = 1_772_000_000;
  const columns = {
    t0: [] as number[],
    t1: [] as number[],
    min: [] as number[],
    max: [] as number[],
    mean: [] as number[],
  };
  for (const { gapS, seconds, low, high, share } of tiles) {
    t += gapS;
    columns.t0.push(t);
    t += seconds;
    columns.t1.push(t);
    columns.min.push(low);
    columns.max.push(low + high);
    columns.mean.push(low + share * high);
  }
  const [t0, t1, min, max, mean] = Object.values(columns).map((values) => Float64Array.from(values));
  return { n: tiles.length, t0, t1, min, max, mean };
}

describe('tiles to columns', () => {
  test('no extreme is lost, no column made up, and every tile counts in the mean once', () => {
    fc.assert(
      fc.property(fc.array(tile, { minLength: 1, maxLength: 300 }), fc.integer({ min: 1, max: 60 }), (list, most) => {
        const tiles = laid(list);
        const runs = tilesToColumns(tiles, tiles, tiles.t0[0], tiles.t1[tiles.n - 1], most);
        const columns = runs.flat();
        expect(columns.length).toBeLessThanOrEqual(most);
        for (let k = 0; k < tiles.n; k++) {
          const home = columns.filter((column) => column.t0 <= tiles.t0[k] && column.t1 >= tiles.t1[k]);
          expect(home).toHaveLength(1);
          expect(home[0].min).toBeLessThanOrEqual(tiles.min[k]);
          expect(home[0].max).toBeGreaterThanOrEqual(tiles.max[k]);
        }
        expect(Math.min(...columns.map(({ min }) => min))).toBe(Math.min(...tiles.min));
        expect(Math.max(...columns.map(({ max }) => max))).toBe(Math.max(...tiles.max));
        for (const { min, mean, max } of columns) {
          expect(mean).toBeGreaterThanOrEqual(min - 1e-9);
          expect(mean).toBeLessThanOrEqual(max + 1e-9);
        }
      }),
    );
  });

  test('a gap that is not within one column parts two runs, and nothing else does', () => {
    fc.assert(
      fc.property(fc.array(tile, { minLength: 1, maxLength: 120 }), (list) => {
        const tiles = laid(list);
        const runs = tilesToColumns(tiles, tiles, tiles.t0[0], tiles.t1[tiles.n - 1], 100_000);
        const gaps = list.slice(1).filter(({ gapS }) => gapS > 0).length;
        expect(runs).toHaveLength(gaps + 1);
      }),
    );
  });

  test('the mean is weighted by time', () => {
    const tiles = laid([
      { gapS: 0, seconds: 30, low: 0, high: 0, share: 0 },
      { gapS: 0, seconds: 90, low: 8, high: 0, share: 0 },
    ]);
    const [[column]] = tilesToColumns(tiles, tiles, tiles.t0[0], tiles.t1[1], 1);
    expect(column.mean).toBe(6);
  });

  test('a stretch without a reading breaks the line', () => {
    const tiles = laid(Array.from({ length: 5 }, () => ({ gapS: 0, seconds: 60, low: 1, high: 0, share: 0 })));
    tiles.mean[2] = Number.NaN;
    expect(tilesToColumns(tiles, tiles, tiles.t0[0], tiles.t1[4], 5).map((run) => run.length)).toEqual([2, 2]);
  });

  test('points reach the edges of every run, with a break between', () => {
    const tiles = laid([
      { gapS: 0, seconds: 60, low: 1, high: 1, share: 0.5 },
      { gapS: 600, seconds: 60, low: 3, high: 0, share: 0 },
    ]);
    const runs = tilesToColumns(tiles, tiles, tiles.t0[0], tiles.t1[1], 50);
    const points = bandPoints(
      runs,
      (s) => s - tiles.t0[0],
      (value) => value,
    );
    expect(points.map(({ t, lo, hi, y }) => [t, lo, hi, y])).toEqual([
      [0, 1, 2, 1.5],
      [60, 1, 2, 1.5],
      [660, null, null, null],
      [660, 3, 3, 3],
      [720, 3, 3, 3],
    ]);
  });
});
