/** Against the tables of the NIST/SEMATECH e-Handbook of Statistical Methods, 1.3.6.7 (normal, t and χ² distributions). */
import { describe, expect, it } from 'vitest';
import { chiSquareBelow, normalBelow, studentBeyond, whereRising } from '../../src/battery/tail-areas.ts';

describe('tables', () => {
  it.each([
    [0, 0.5],
    [1, 0.84134],
    [1.96, 0.975],
    [2.326, 0.98999],
    [-1.645, 0.04998],
  ])('normal below %d: %d', (x, area) => {
    expect(normalBelow(x)).toBeCloseTo(area, 4);
  });

  it.each([
    [1, 3.841],
    [5, 11.07],
    [10, 18.307],
    [100, 124.342],
  ])('χ², %d degrees: 95 %% lie below %d', (degrees, x) => {
    expect(chiSquareBelow(x, degrees)).toBeCloseTo(0.95, 4);
  });

  it.each([
    [1, 12.706],
    [5, 2.571],
    [10, 2.228],
    [100, 1.984],
  ])('t, %d degrees: 5 %% lie beyond ± %d', (degrees, t) => {
    expect(studentBeyond(t, degrees)).toBeCloseTo(0.05, 4);
  });
});

it('finds where a rising function passes a level, and the end where it does not', () => {
  expect(whereRising((x) => x * x, 2, 0, 10)).toBeCloseTo(Math.SQRT2, 12);
  expect(whereRising((x) => x, 20, 0, 10)).toBeCloseTo(10, 9);
});
