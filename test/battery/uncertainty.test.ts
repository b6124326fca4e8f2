import { describe, expect, it } from 'vitest';
import {
  accuracyU,
  combine,
  decide,
  expand,
  resolutionU,
  rootOfSquares,
  together,
  uncertaintyOf,
  widened,
} from '../../src/battery/uncertainty.ts';

it('counts a negative reading like a positive one', () => {
  const accuracy = { relative: 0.01, absolute: 0.005 };
  expect(accuracyU(accuracy, -100)).toBe(accuracyU(accuracy, 100));
  expect(accuracyU(accuracy, 100)).toBeCloseTo(Math.hypot(1, 0.005) / Math.sqrt(3), 12);
  expect(accuracyU(accuracy, 0)).toBeCloseTo(0.005 / Math.sqrt(3), 12);
});

it('combines nothing to nothing, and expands by two', () => {
  expect(combine()).toBe(0);
  expect(combine(3, 4)).toBe(5);
  expect(expand(0.5)).toBe(1);
  expect(expand(0.5, 3)).toBe(1.5);
});

it('halves a step before spreading it', () => {
  expect(resolutionU(0.1)).toBeCloseTo(0.02887, 5);
});

describe('verdict', () => {
  it('is open on the very edge, and where anything is not a number', () => {
    expect(decide({ value: 45, U: 5, limit: 50, side: 'max' })).toBe('undecided');
    expect(decide({ value: 55, U: 5, limit: 50, side: 'max' })).toBe('undecided');
    expect(decide({ value: 50, U: 0, limit: 50, side: 'min' })).toBe('undecided');
    expect(decide({ value: Number.NaN, U: 5, limit: 50, side: 'max' })).toBe('undecided');
    expect(decide({ value: 1, U: Number.NaN, limit: 50, side: 'max' })).toBe('undecided');
  });
});

describe('factors of what is put together', () => {
  it('come nearer to 2 with scatter besides', () => {
    const bound = uncertaintyOf([1], 0);
    expect(widened(bound, 0)).toEqual(bound);
    expect(widened(bound, 10 * bound.u)).toEqual({ u: combine(bound.u, 10 * bound.u), k: 2 });
    const half = widened(bound, bound.u / 2);
    expect(half.k).toBeGreaterThan(bound.k + 0.1);
    expect(half.k).toBeLessThan(1.95);
    expect(widened({ u: 0, k: 1.65 }, 1)).toEqual({ u: 1, k: 2 });
  });

  it('add up where all err the same way, by weight', () => {
    const mean = together([
      { u: 1, k: 1.65, weight: 3 },
      { u: 3, k: 2, weight: 1 },
    ]);
    expect(mean.u).toBeCloseTo((3 * 1 + 3) / 4, 12);
    expect(mean.u * mean.k).toBeCloseTo((3 * 1.65 + 6) / 4, 12);
    expect(together([{ u: 2, weight: 5 }])).toEqual({ u: 2, k: 2 });
  });
});

it('a root of squares is that of the engine to its last digits, which differ from one browser to another', () => {
  for (let k = 0; k < 3000; k++) {
    const values = Array.from({ length: 1 + (k % 5) }, (_, n) => Math.sin(k * 7 + n * 3) * 10 ** ((k + n) % 13) * 1e-9);
    const engine = Math.hypot(...values);
    expect(Math.abs(rootOfSquares(values) - engine)).toBeLessThanOrEqual(2 * Number.EPSILON * engine);
  }
  expect(rootOfSquares([])).toBe(0);
  expect(rootOfSquares([0, 0])).toBe(0);
  expect(rootOfSquares([3e200, 4e200]) / 5e200).toBeCloseTo(1, 14);
  expect(rootOfSquares([1, Number.NaN])).toBeNaN();
  expect(rootOfSquares([1, Number.NEGATIVE_INFINITY])).toBe(Number.POSITIVE_INFINITY);
});
