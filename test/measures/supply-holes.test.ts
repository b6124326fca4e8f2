import { expect, it } from 'vitest';
import type { Analysis } from '../../src/analysis/model.ts';
import { supplyHoles } from '../../src/measures/supply-holes.ts';
import { analysed, hole, log, sessionWith, stretch } from '../analysis/blocks.ts';
import { asleep } from '../analysis/vehicle.ts';

const holesOf = (analysis: Analysis) => {
  const { all, collapsed } = supplyHoles(analysis, sessionWith());
  return [all.length, collapsed.length];
};

it('a hole that began with a collapse of the voltage is the supply’s', () => {
  const collapse = stretch(3, 1, { v: 5, i: -0.1 });
  expect(holesOf(analysed(log([asleep(1800, 1), collapse, hole(3600), asleep(1800, 1)])))).toEqual([1, 1]);
});

it('one out of a steady voltage need not be', () => {
  expect(holesOf(analysed(log([asleep(1800, 1), hole(3600), asleep(1800, 1)])))).toEqual([1, 0]);
});

it('a log without a hole has none', () => {
  expect(holesOf(analysed(log([asleep(1800, 1)])))).toEqual([0, 0]);
});
