import { describe, expect, it } from 'vitest';
import { flipTiles } from '../../../src/analysis/tiles/finish-tiles.ts';
import { joined } from '../../../src/analysis/tiles/tiles.ts';
import { hole, log, START, type Stretch, stretch, sum, tilesOf } from '../blocks.ts';

const awake = { v: 12.4, i: -2 };
const asleep = { v: 12.6, i: -0.02 };
const holesOf = (stretches: readonly Stretch[]) => {
  const tiles = tilesOf(log(stretches));
  return [...Array(tiles.n).keys()]
    .filter((k) => k > 0 && !joined(tiles, k))
    .map((k) => [tiles.t1[k - 1] - START, tiles.t0[k] - START]);
};

describe('an odd interval', () => {
  it('is no gap where the logger slows down, or speeds up again', () => {
    const stretches = [
      stretch(300, 1, awake),
      stretch(3600, 10, asleep),
      stretch(300, 1, awake),
      stretch(7200, 60, asleep),
    ];
    expect(holesOf(stretches)).toEqual([]);
    const tiles = tilesOf(log(stretches));
    expect(sum(tiles.iCov, tiles.n)).toBeCloseTo(11_400 - 60, 6);
  });

  it('is a gap where the logger goes on as before', () => {
    expect(holesOf([stretch(300, 1, awake), hole(100), stretch(300, 1, awake)])).toEqual([[299, 400]]);
    expect(holesOf([stretch(6000, 60, asleep), hole(6000), stretch(6000, 60, asleep)])).toEqual([[5940, 12_000]]);
  });

  it('is a gap at the very moment at which the logger slows down, if it is long for both', () => {
    expect(holesOf([stretch(300, 1, awake), hole(600), stretch(3600, 10, asleep)])).toEqual([[299, 900]]);
  });

  it('is a habit where it comes often', () => {
    const burst = [stretch(10, 1, awake), hole(50)];
    expect(holesOf(Array.from({ length: 30 }, () => burst).flat())).toEqual([]);
  });
});

describe('turning the sign round', () => {
  const stretches = [stretch(60, 1, { v: 14, i: (s) => 3 + s }), stretch(60, 1, { v: 12, i: (s) => -0.1 * s })];

  it('turns charge and swaps the extremes', () => {
    const tiles = tilesOf(log(stretches));
    const before = tilesOf(log(stretches));
    flipTiles(tiles, { start: Number.NEGATIVE_INFINITY, end: Number.POSITIVE_INFINITY });
    for (let k = 0; k < tiles.n; k++) {
      expect([tiles.i[k], tiles.netAs[k]]).toEqual([-before.i[k], -before.netAs[k]]);
      expect([tiles.iMin[k], tiles.iMax[k]]).toEqual([-before.iMax[k], -before.iMin[k]]);
      expect(tiles.iRough[k]).toBe(before.iRough[k]);
    }
  });

  it('only within the time that is named', () => {
    const [tiles, before] = [tilesOf(log(stretches)), tilesOf(log(stretches))];
    const start = before.t0[60] ?? 0;
    flipTiles(tiles, { start, end: Number.POSITIVE_INFINITY });
    for (let k = 0; k < tiles.n; k++) expect(tiles.i[k]).toBe(before.i[k] * (before.t0[k] < start ? 1 : -1));
  });
});
