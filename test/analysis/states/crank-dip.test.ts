import { expect, it } from 'vitest';
import { dipBefore, leapsAt } from '../../../src/analysis/states/crank-dip.ts';
import { log, START, type Stretch, stretch, tilesOf } from '../blocks.ts';

const at = (v: number, seconds: number) => stretch(seconds, 0.1, { v, i: -1 });
const dipAt = (systemV: 12 | 24, ...stretches: readonly Stretch[]) => {
  const seconds = stretches.slice(0, -1).reduce((sum, one) => sum + one.seconds, 0);
  return dipBefore(tilesOf(log(stretches)), START + seconds, systemV);
};

it('finds the dip of a starter just before the generator takes over', () => {
  const found = dipAt(12, at(12.5, 60), at(10.2, 2), at(14.2, 60));
  expect(found?.dipV).toBeCloseTo(2.3, 1);
});

it('finds none where the voltage only rises, or sinks by less than a volt', () => {
  expect(dipAt(12, at(12.5, 60), at(14.2, 60))).toBeNull();
  expect(dipAt(12, at(12.5, 60), at(11.8, 2), at(14.2, 60))).toBeNull();
});

it('asks for twice as much at 24 V', () => {
  expect(dipAt(24, at(25, 60), at(23.5, 2), at(28.4, 60))).toBeNull();
  expect(dipAt(24, at(25, 60), at(21, 2), at(28.4, 60))?.dipV).toBeCloseTo(4, 1);
});

it('a lost supply is no dip, nor is one long gone', () => {
  expect(dipAt(12, at(12.5, 60), at(0.5, 2), at(14.2, 60))).toBeNull();
  expect(dipAt(12, at(12.5, 60), at(10.2, 2), at(12.5, 120), at(14.2, 60))).toBeNull();
});

/** A row a second, as few loggers of engine controllers are quicker; the starter may turn between two of them. */
const slowly = (v: number, seconds: number) => stretch(seconds, 1, { v });
const leaps = (...stretches: readonly Stretch[]) => {
  const seconds = stretches.slice(0, -1).reduce((sum, one) => sum + one.seconds, 0);
  return leapsAt(tilesOf(log(stretches)), START + seconds, 12);
};

it('a start between two rows leaves the voltage lower, until the generator lifts it by a volt and more', () => {
  expect(leaps(slowly(12.4, 8), slowly(12.05, 7), slowly(14.1, 60))).toBe(true);
});

it('a charger lifts it by less, or from where it was, and rows a minute apart show neither', () => {
  expect(leaps(slowly(12.4, 8), slowly(12.05, 7), slowly(12.9, 60))).toBe(false);
  expect(leaps(slowly(12.4, 15), slowly(13.8, 60))).toBe(false);
  const minutely = (v: number, seconds: number) => stretch(seconds, 60, { v });
  expect(leaps(minutely(12.4, 600), minutely(12.05, 60), minutely(14.1, 600))).toBe(false);
});
