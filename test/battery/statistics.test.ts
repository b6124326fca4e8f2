import fc from 'fast-check';
import { describe, expect, it } from 'vitest';
import {
  linearFit,
  mean,
  median,
  quantile,
  robustSd,
  standardDeviation,
  trapezium,
  twoPointResistance,
  weightedQuantile,
} from '../../src/battery/statistics.ts';

describe('few or no values', () => {
  it('are not a number where there is none', () => {
    expect(mean([])).toBeNaN();
    expect(median([])).toBeNaN();
    expect(quantile([], 0)).toBeNaN();
    expect(weightedQuantile([], [], 0.5)).toBeNaN();
    expect(weightedQuantile([1, 2], [0, 0], 0.5)).toBeNaN();
    expect(standardDeviation([1])).toBeNaN();
    expect(robustSd([])).toBeNaN();
    expect(trapezium([1], [5])).toBe(0);
  });

  it('fit no line through one x, and a line without scatter through two', () => {
    expect(linearFit([], [])).toBeNull();
    expect(linearFit([1], [1])).toBeNull();
    expect(linearFit([2, 2, 2], [1, 2, 3])).toBeNull();
    const line = linearFit([0, 2], [1, 5]);
    expect(line).toMatchObject({ slope: 2, intercept: 1 });
    expect(line?.residualSd).toBeNaN();
  });
});

describe('quantiles', () => {
  it('lie on straight lines between the sorted values', () => {
    expect(median([3, 1, 2])).toBe(2);
    expect(median([4, 1, 3, 2])).toBe(2.5);
    expect(quantile([10, 20, 30, 40, 50], 0.95)).toBeCloseTo(48, 12);
    expect(quantile([1, 2], 0)).toBe(1);
    expect(quantile([1, 2], 1)).toBe(2);
    expect(quantile([Number.NEGATIVE_INFINITY, 0, 0], 0.5)).toBe(0);
  });

  it('leave the values as they were', () => {
    const values = new Float64Array([3, 1, 2]);
    median(values);
    expect([...values]).toEqual([3, 1, 2]);
  });

  it('with weights, name the value that the share of the weight keeps below', () => {
    expect(weightedQuantile([5, 1, 9], [1, 98, 1], 0.5)).toBe(1);
    expect(weightedQuantile([5, 1, 9], [1, 98, 1], 0.985)).toBe(5);
    expect(weightedQuantile([5, 1, 9], [1, 98, 1], 1)).toBe(9);
    expect(weightedQuantile([Number.NaN, 2, 3], [100, 1, 1], 0.4)).toBe(2);
  });

  it('with equal weights, agree with counting', () => {
    fc.assert(
      fc.property(
        fc.array(fc.integer({ min: -50, max: 50 }), { minLength: 1, maxLength: 40 }),
        fc.integer({ min: 1, max: 99 }),
        (values, percent) => {
          const found = weightedQuantile(
            values,
            values.map(() => 1),
            percent / 100,
          );
          const atOrBelow = values.filter((value) => value <= found).length;
          const below = values.filter((value) => value < found).length;
          expect(100 * atOrBelow).toBeGreaterThanOrEqual(percent * values.length - 1e-6);
          expect(100 * below).toBeLessThan(percent * values.length + 1e-6);
        },
      ),
    );
  });
});

describe('scatter', () => {
  it('is not moved by one wild value when taken from medians', () => {
    expect(robustSd([1, 2, 3, 4, 1000])).toBeCloseTo(1.4826, 9);
  });

  it('does not depend on the level', () => {
    fc.assert(
      fc.property(
        fc.array(fc.double({ min: -1, max: 1, noNaN: true }), { minLength: 2, maxLength: 50 }),
        fc.double({ min: -1e6, max: 1e6, noNaN: true }),
        (values, level) => {
          const moved = standardDeviation(values.map((value) => value + level));
          expect(moved).toBeCloseTo(standardDeviation(values), 8);
        },
      ),
    );
  });
});

describe('resistance from two loads', () => {
  const a = { amperes: 10, volts: 12.4, uAmperes: 0.5, uVolts: 0.01 };
  const b = { amperes: 210, volts: 11.4, uAmperes: 2, uVolts: 0.02 };

  it('carries the uncertainty of all four readings', () => {
    const found = twoPointResistance(a, b);
    expect(found?.value).toBeCloseTo(0.005, 12);
    const volts = Math.hypot(0.01, 0.02) / 200;
    const amperes = (0.005 * Math.hypot(0.5, 2)) / 200;
    expect(found?.u).toBeCloseTo(Math.hypot(volts, amperes), 12);
  });

  it('does not depend on the order of the points', () => {
    const [there, back] = [twoPointResistance(a, b), twoPointResistance(b, a)];
    expect(there?.value).toBeCloseTo(back?.value ?? Number.NaN, 12);
    expect(there?.u).toBeCloseTo(back?.u ?? Number.NaN, 12);
    expect(there?.openV).toBeCloseTo(back?.openV ?? Number.NaN, 9);
  });

  it('is not there where the load did not change', () => {
    expect(twoPointResistance(a, { ...b, amperes: 10 })).toBeNull();
  });
});
