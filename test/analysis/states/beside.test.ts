import { expect, it } from 'vitest';
import { drawLater, drawNear, drawOfRow } from '../../../src/analysis/states/beside.ts';
import { hole, log, START, type Stretch, stretch, tilesOf } from '../blocks.ts';

const draws = (amps: number, seconds: number, stepS = 1) => stretch(seconds, stepS, { v: 12.4, i: -amps });
function at(stretches: readonly Stretch[], second: number) {
  const tiles = tilesOf(log(stretches));
  const k = Array.from({ length: tiles.n }, (_, j) => j).find((j) => tiles.t0[j] - START >= second) ?? tiles.n;
  return { tiles, k };
}

it('the draw to either side is that of some seconds, without the tile at the change', () => {
  const { tiles, k } = at([draws(8, 60), draws(3, 60)], 60);
  expect(drawNear(tiles, k - 1, -1)).toBeCloseTo(8, 6);
  expect(drawNear(tiles, k, 1)).toBeCloseTo(3, 6);
});

it('nothing is looked for beyond a hole, and outside of the log', () => {
  const { tiles, k } = at([draws(8, 60), hole(600), draws(3, 60)], 660);
  expect(drawNear(tiles, k - 1, -1)).toBeNaN();
  expect(drawNear(tiles, k, 1)).toBeNaN();
  expect(drawNear(tiles, k + 1, 1)).toBeCloseTo(3, 6);
  expect(drawNear(tiles, tiles.n, 1)).toBeNaN();
  expect(drawNear(tiles, -1, -1)).toBeNaN();
});

it('the draw later on is that of a minute after', () => {
  const { tiles, k } = at([draws(8, 60), draws(20, 40), draws(1, 120)], 60);
  expect(drawLater(tiles, k)).toBeCloseTo(1, 6);
  expect(drawNear(tiles, k, 1)).toBeCloseTo(20, 6);
  const slow = at([draws(8, 600, 120), draws(2, 600, 120)], 600);
  expect(drawLater(slow.tiles, slow.k)).toBeCloseTo(2, 6);
});

it('a single row of a slow log is what it shows', () => {
  const slow = at([draws(8, 600, 60), draws(2, 600, 60)], 600);
  expect(Number.isNaN(drawOfRow(slow.tiles, slow.k))).toBe(slow.tiles.rows[slow.k - 1] !== 1);
  const { tiles, k } = at([hole(10), draws(8, 60)], 10);
  expect(drawOfRow(tiles, k)).toBeNaN();
});
