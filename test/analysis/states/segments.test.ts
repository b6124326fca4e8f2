/** Where a log is cut, and what is told of the pieces. */
import { describe, expect, it } from 'vitest';
import { crankTiles, cutSegments, type Marked } from '../../../src/analysis/states/segments.ts';
import { hole, log, noisy, START, type Stretch, stretch, tilesOf } from '../blocks.ts';
import { asleep, running } from '../vehicle.ts';

function cut(stretches: readonly Stretch[], marks: (n: number) => Partial<Marked> = () => ({})) {
  const tiles = tilesOf(log(stretches));
  const marked: Marked = {
    tiles,
    fed: new Uint8Array(tiles.n),
    lost: new Array(tiles.n).fill(null),
    crankAt: new Int32Array(tiles.n).fill(-1),
    intoA: 0.3,
    ...marks(tiles.n),
  };
  const segments = cutSegments(marked, 1);
  // They cover the tiles, each once.
  expect(segments.map(({ first }) => first)).toEqual([0, ...segments.slice(0, -1).map(({ last }) => last + 1)]);
  expect(segments.at(-1)?.last).toBe(tiles.n - 1);
  return segments;
}
const draws = (amps: number, seconds = 120, sd = 0.002) =>
  stretch(seconds, 1, { v: noisy(12.4, 0.002, 2), i: noisy(-amps, sd) });

describe('a log is cut', () => {
  it('where restlessness goes, though the level stays, in the few rows of a slow log; not where a few readings of many are alike by chance', () => {
    const restless = stretch(40_000, 2, { v: 14.1, i: noisy(9, 0.05) });
    expect(cut([restless])).toHaveLength(1);
    const slow = stretch(1200, 10, { v: 12.4, i: noisy(-6, 0.3) });
    const fan = stretch(300, 10, { v: 12.4, i: -6 });
    expect(cut([slow])).toHaveLength(1);
    expect(cut([slow, fan]).length).toBeGreaterThan(1);
  });

  it('where the draw goes to another level, and not by noise', () => {
    expect(cut([draws(4), draws(1.5), draws(0.02)]).map(({ drawA }) => Math.round(drawA * 10) / 10)).toEqual([
      4, 1.5, 0,
    ]);
    expect(cut([draws(4, 600, 0.3)])).toHaveLength(1);
  });

  it('at holes, which it measures, and where something begins to feed', () => {
    // From the last row, a second before it.
    const holed = cut([draws(0.02), hole(600), draws(0.02)]);
    expect(holed.map(({ holeS }) => Math.round(holeS))).toEqual([0, 601]);
    const fed = cut([draws(0.02, 240)], (n) => ({ fed: Uint8Array.from({ length: n }, (_, k) => (k < 100 ? 0 : 1)) }));
    expect(fed.map(({ isFed }) => isFed)).toEqual([false, true]);
  });

  it('where a level stays and its restlessness goes', () => {
    const segments = cut([draws(6, 240, 0.5), draws(6, 240, 0.002)]);
    expect(segments).toHaveLength(2);
    expect(segments[0].roughA).toBeGreaterThan(20 * segments[1].roughA);
  });
});

it('a drive is restless, fed into and measured by its rows; what only rises or falls is not restless', () => {
  const [drive] = cut([running(600, 1)]).slice(-1);
  expect(drive.roughA).toBeGreaterThan(0.3);
  expect(drive.inShare).toBeGreaterThan(0.9);
  expect(drive.stepS).toBeCloseTo(1, 1);
  const [fan] = cut([stretch(60, 1, { v: 12.4, i: (s) => -0.2 + s * 0.002 })]);
  expect(fan.roughA).toBeLessThan(0.001);
});

it('in a long log, whose quiet tiles are merged, a minute says more than the second at its edge', () => {
  const tiles = tilesOf(log([draws(8.6, 60), draws(4.05, 120)]));
  // What merging leaves: the edge of a second, and two long tiles.
  const edge = [60, 61];
  const at = (from: number, to: number, amps: number, rough: number) => ({ from, to, amps, rough });
  const parts = [at(0, 1, -20, 9), at(1, 60, -4.1, 0.02), at(edge[0], edge[1], -6, 4.5), at(61, 180, -4.05, 0.02)];
  parts.forEach(({ from, to, amps, rough }, k) => {
    [tiles.t0[k], tiles.t1[k], tiles.rows[k]] = [START + from, START + to, to - from];
    [tiles.i[k], tiles.v[k], tiles.iRough[k], tiles.vRough[k]] = [amps, 12.4, rough, 0.002];
  });
  tiles.n = parts.length;
  const marked = {
    tiles,
    fed: new Uint8Array(tiles.n),
    lost: new Array(tiles.n).fill(null),
    crankAt: new Int32Array(tiles.n).fill(-1),
    intoA: 0.3,
  };
  const last = cutSegments(marked, 1).at(-1);
  expect(last?.drawA).toBeCloseTo(4.05, 1);
  expect(last?.roughA).toBeLessThan(0.1);
});

it('tiles of a crank are those that it touches', () => {
  const tiles = tilesOf(log([asleep(60, 1)]));
  const at = crankTiles(tiles, [{ at: START + 20, seconds: 2 } as Parameters<typeof crankTiles>[1][number]]);
  const own = [...at].flatMap((crank, k) => (crank === 0 ? [tiles.t0[k] - START] : []));
  expect(own).toContain(20);
  expect(Math.max(...own)).toBeLessThan(22);
  expect(own.length).toBeLessThanOrEqual(3);
});
