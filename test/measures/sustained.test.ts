import { expect, it } from 'vitest';
import type { Tiles } from '../../src/analysis/tiles/tiles.ts';
import { belowS, sustained } from '../../src/measures/sustained.ts';

/** Tiles of `lengths` seconds, one behind the other. */
function tilesOf(lengths: readonly number[]): Tiles {
  const ends = lengths.map((_, k) => lengths.slice(0, k + 1).reduce((sum, s) => sum + s, 0));
  return {
    n: lengths.length,
    t0: Float64Array.from(ends, (end, k) => end - lengths[k]),
    t1: Float64Array.from(ends),
  } as Tiles;
}

const all = (tiles: Tiles) => Array.from({ length: tiles.n }, (_, k) => k);

it('passes over what did not last a minute', () => {
  const tiles = tilesOf([600, 5, 600, 70, 600]);
  const v = Float64Array.of(12.6, 7, 12.5, 11.8, 12.4);
  // 5 s of 7 V and 55 of the 70 s at 11.8 V make the minute.
  expect(sustained(tiles, v, all(tiles), 'lowest')).toEqual({ value: 11.8, from: 600, to: 605 });
  expect(sustained(tiles, v, all(tiles), 'highest')?.value).toBe(12.6);
});

it('gathers tiles that together last as long, up to the mildest of them', () => {
  const tiles = tilesOf([30, 20, 25, 1000]);
  expect(sustained(tiles, Float64Array.of(40, 50, 45, 20), all(tiles), 'highest')?.value).toBe(40);
});

it('is null where the chosen tiles are too short, or read nothing', () => {
  const tiles = tilesOf([30, 20, 1000]);
  expect(sustained(tiles, Float64Array.of(1, 2, 3), [0, 1], 'lowest')).toBeNull();
  expect(sustained(tiles, new Float64Array(3).fill(Number.NaN), all(tiles), 'lowest')).toBeNull();
});

it('counts the time below a level', () => {
  const tiles = tilesOf([30, 20, 1000]);
  expect(belowS(tiles, Float64Array.of(10, 11, 12), all(tiles), 12)).toBe(50);
});
