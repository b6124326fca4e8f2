import { expect, it } from 'vitest';
import { joined, tileAt } from '../../../src/analysis/tiles/tiles.ts';
import { hole, log, START, stretch, tilesOf } from '../blocks.ts';

const tiles = tilesOf(
  log([stretch(600, 1, { v: 12.6, i: -0.02 }), hole(3600), stretch(600, 1, { v: 12.5, i: -0.02 })]),
);
const behind = tiles.t0.subarray(0, tiles.n).findIndex((t) => t >= START + 4200);

it('tiles are joined but across the hole', () => {
  const apart = Array.from({ length: tiles.n }, (_, k) => k).filter((k) => k > 0 && !joined(tiles, k));
  expect(apart).toEqual([behind]);
  expect(joined(tiles, 0)).toBe(false);
  expect(joined(tiles, tiles.n)).toBe(false);
});

it('finds the first tile that ends after a moment', () => {
  const k = tileAt(tiles, START + 300);
  expect(tiles.t1[k]).toBeGreaterThan(START + 300);
  expect(tiles.t1[k - 1]).toBeLessThanOrEqual(START + 300);
  expect(tileAt(tiles, START + 2000)).toBe(behind);
  expect(tileAt(tiles, START - 5)).toBe(0);
  expect(tileAt(tiles, START + 99_999)).toBe(tiles.n);
});
