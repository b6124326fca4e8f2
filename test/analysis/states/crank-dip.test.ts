import { expect, it } from 'vitest';
import { dipBefore } from '../../../src/analysis/states/crank-dip.ts';
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
