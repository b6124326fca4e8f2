import { expect, it } from 'vitest';
import { extrapolate, interpolate } from '../../src/battery/interpolation.ts';

const xs = [0, 10, 30];
const ys = [1, 2, 0];

it('follows straight lines between the rows', () => {
  expect([0, 5, 10, 20, 30].map((x) => interpolate(xs, ys, x))).toEqual([1, 1.5, 2, 1, 0]);
});

it('holds at the ends, or goes on where asked', () => {
  expect(interpolate(xs, ys, -10)).toBe(1);
  expect(interpolate(xs, ys, 50)).toBe(0);
  expect(interpolate([20], [7], 35)).toBe(7);
  expect(extrapolate(xs, ys, -10)).toBe(0);
  expect(extrapolate(xs, ys, 50)).toBe(-2);
});

it('passes on what is not a number', () => {
  expect(interpolate(xs, ys, Number.NaN)).toBeNaN();
});
