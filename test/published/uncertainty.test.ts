import { describe, expect, it } from 'vitest';
import { combine, coverageFactor, decide, rectangular, resolutionU } from '../../src/battery/uncertainty.ts';
import { makeRandom } from '../../src/demo/random.ts';
import { analysed, log, stretch } from '../analysis/blocks.ts';

// JCGM 100, 4.3.7 (from memory; the arithmetic is exact)
it('spreads a half-width of 0.40 to a standard uncertainty of 0.23', () => {
  expect(rectangular(0.4)).toBeCloseTo(0.23, 2);
});

// JCGM 100, F.2.2.1 (from memory): u² = step² / 12
it('spreads a resolution over a step', () => {
  expect(resolutionU(0.1) ** 2).toBeCloseTo(0.1 ** 2 / 12, 12);
});

// JCGM 100, H.1 (seen), in nm: the calibrated end gauge
it('combines 25, 5.8, 3.9, 6.7, 2.9 and 16.6 nm to 32 nm', () => {
  expect(combine(25, 5.8, 3.9, 6.7, 2.9, 16.6)).toBeCloseTo(32, 0);
});

describe('charge counted over a day, from samples to totals', () => {
  // computed: 50 mA for 24 h; offset ± 2 mA → 0.0277 Ah; gain ± 1 % → 0.0069 Ah; together 0.0286 Ah, U (k = 2) = 0.0571 Ah
  const chargeOut = (accuracy: { relative: number; absolute: number }, stepS = 1) => {
    const columns = { current: { name: 'a', unit: 'A', positive: 'charging', accuracy } } as const;
    return analysed(log([stretch(86_400, stepS, { v: 12.5, i: -0.05 })]), { columns }).totals;
  };

  it('has the offset grow with time', () => {
    expect(chargeOut({ relative: 0, absolute: 0.002 }).chargeOutAh).toBeCloseTo(1.2, 4);
    expect(chargeOut({ relative: 0, absolute: 0.002 }).chargeOutU.u).toBeCloseTo(0.0277, 4);
  });

  it('has the gain grow with the charge', () => {
    expect(chargeOut({ relative: 0.01, absolute: 0 }).chargeOutU.u).toBeCloseTo(0.0069, 4);
  });

  it('comes to 0.0286 Ah together, however often it was read', () => {
    const accuracy = { relative: 0.01, absolute: 0.002 };
    expect(2 * chargeOut(accuracy).chargeOutU.u).toBeCloseTo(0.0571, 4);
    expect(2 * chargeOut(accuracy, 60).chargeOutU.u).toBeCloseTo(0.0571, 4);
  });
});

describe('an uncertainty that covers 95 %', () => {
  // EA-4/02, S9.14: 1.65 where one rectangular part dominates (from memory); two alike make a triangle, of which 95.45 %, as of two
  // standard deviations of a normal one, lie within √6 · (1 − √0.0455) = 1.93 (computed)
  it('takes 1.65 of one bound, 1.93 of two alike, 2 of scatter', () => {
    expect(coverageFactor([1], 0)).toBeCloseTo(1.65, 2);
    expect(coverageFactor([1, 1], 0)).toBeCloseTo(1.927, 2);
    expect(coverageFactor([1], 10)).toBe(2);
    expect(coverageFactor([], 1)).toBe(2);
  });

  it.each([
    [[1], 0],
    [[1], 0.2],
    [[1], 0.6],
    [[1, 0.5], 0],
    [[1, 1, 1], 0.3],
    [[0.2, 0.1], 1],
  ] as const)('bounds %j with scatter %f', (bounds, scatter) => {
    const random = makeRandom(7);
    const U = coverageFactor(bounds, scatter) * combine(...bounds.map(rectangular), scatter);
    let within = 0;
    for (let k = 0; k < 40_000; k++) {
      const error = bounds.reduce((sum, a) => sum + a * (2 * random.uniform() - 1), scatter * random.normal());
      if (Math.abs(error) <= U) within++;
    }
    expect(within / 40_000).toBeGreaterThan(0.94);
    expect(within / 40_000).toBeLessThan(0.985);
  });
});

describe('a limit within value ± U gives no verdict', () => {
  // JCGM 106, guarded acceptance and rejection (from memory)
  it.each([
    [30, 'within'],
    [44.9, 'within'],
    [45.1, 'undecided'],
    [50, 'undecided'],
    [54.9, 'undecided'],
    [55.1, 'beyond'],
  ] as const)('%f ± 5 against at most 50: %s', (value, verdict) => {
    expect(decide({ value, U: 5, limit: 50, side: 'max' })).toBe(verdict);
    expect(decide({ value: 100 - value, U: 5, limit: 50, side: 'min' })).toBe(verdict);
  });
});
