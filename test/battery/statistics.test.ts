import fc from 'fast-check';
import { describe, expect, it } from 'vitest';
import {
  beyondZero,
  linearFit,
  mean,
  meanU,
  median,
  quantile,
  robustSd,
  slopeBeside,
  standardDeviation,
  trapezium,
  twoPointResistance,
  weightedQuantile,
} from '../../src/battery/statistics.ts';
import { makeRandom } from '../../src/demo/random.ts';

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

describe('the mean of readings that go with their neighbours', () => {
  const random = makeRandom(31);
  const scatter = (n: number) => Array.from({ length: n }, () => random.normal());

  it('scatters as σ/√n where they do not', () => {
    for (const n of [10, 40, 200]) {
      const ratios = Array.from({ length: 300 }, () => meanU(scatter(n)) * Math.sqrt(n));
      const usual = ratios.reduce((sum, one) => sum + one, 0) / ratios.length;
      expect(usual).toBeGreaterThan(0.95);
      expect(usual).toBeLessThan(1.6);
    }
    const few = scatter(5);
    expect(meanU(few)).toBeCloseTo(standardDeviation(few) / Math.sqrt(5), 12);
  });

  it('hardly scatters by a ripple, and not at all by a line', () => {
    const ripple = Array.from({ length: 80 }, (_, k) => Math.sin((Math.PI * k) / 2));
    expect(meanU(ripple)).toBeLessThan(0.03);
    expect(meanU(ripple.map((_, k) => 3 * k))).toBeLessThan(1e-9);
  });
});

describe('slope beside other columns', () => {
  const n = 60;
  const z = Array.from({ length: n }, (_, k) => k / n);
  const x = z.map((one, k) => 5 * one + Math.sin(1.3 * k));
  const fitted = (noise: (k: number) => number) => {
    const y = x.map((one, k) => 2 - 0.5 * one + 7 * z[k] + noise(k));
    return slopeBeside(x, y, [z]);
  };

  it('is that of x alone', () => {
    const found = fitted(() => 0);
    expect(found?.value).toBeCloseTo(-0.5, 9);
    expect(found?.u).toBeLessThan(1e-9);
  });

  it('is as uncertain as it scatters', () => {
    const random = makeRandom(5);
    const found = Array.from({ length: 400 }, () => fitted(() => 0.1 * random.normal()));
    const errors = found.map((one) => (one?.value ?? 0) + 0.5);
    const rms = Math.sqrt(errors.reduce((sum, one) => sum + one * one, 0) / errors.length);
    const usual = found.reduce((sum, one) => sum + (one?.u ?? 0), 0) / found.length;
    expect(usual / rms).toBeGreaterThan(0.9);
    expect(usual / rms).toBeLessThan(1.2);
  });

  it('counts fewer readings where x and what is left both go with their neighbours', () => {
    const slow = Array.from({ length: n }, (_, k) => Math.sin(k / 6));
    const u = (left: (k: number) => number) =>
      slopeBeside(
        slow,
        slow.map((one, k) => one + left(k)),
        [z],
      )?.u ?? Number.NaN;
    const wave = (k: number) => 0.2 * Math.cos(k / 4);
    const jagged = (k: number) => 0.2 * (k % 2 ? 1 : -1) * Math.SQRT1_2;
    expect(u(wave)).toBeGreaterThan(2 * u(jagged));
  });

  it('is none of too few readings, or of an x that does not change beside the others', () => {
    expect(slopeBeside([1, 2, 3, 4], [1, 2, 3, 4], [[1, 0, 1, 0]])).toBeNull();
    expect(slopeBeside(z, x, [z])).toBeNull();
  });
});

// Computed: σ·φ(0) = 0.39894 σ; of a normal table φ(1) − (1 − Φ(1)) = 0.24197 − 0.15866 = 0.08332 (tables of the normal distribution)
it('what lies beyond zero of normal scatter', () => {
  expect(beyondZero(0, 2)).toBeCloseTo(2 * 0.39894, 4);
  expect(beyondZero(1, 1)).toBeCloseTo(0.08332, 4);
  expect(beyondZero(9, 1)).toBeLessThan(1e-6);
});
