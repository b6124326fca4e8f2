/** Tolerance factors and the areas that they are made of, against published values. */
import { describe, expect, it } from 'vitest';
import { chiSquareBelow, normalBelow, studentBeyond } from '../../src/battery/tail-areas.ts';
import { chanceOf, leastToMostConfidence, normalRange, toleranceFactor } from '../../src/battery/tolerance.ts';

describe('areas', () => {
  // Tables of any textbook, from memory.
  it.each([
    [1.6449, 0.95],
    [1.96, 0.975],
    [-2.3263, 0.01],
    [0, 0.5],
  ])('below %f of the normal curve: %f', (x, area) => {
    expect(normalBelow(x)).toBeCloseTo(area, 4);
  });
  it.each([
    // 23.650 at 1 %, 42 degrees: NIST/SEMATECH e-Handbook, 7.2.6.3.
    [23.65, 42, 0.01],
    [3.8415, 1, 0.95],
    [0.7107, 4, 0.05],
    [16.919, 9, 0.95],
  ])('below %f of χ² with %i degrees: %f', (x, degrees, area) => {
    expect(chiSquareBelow(x, degrees)).toBeCloseTo(area, 4);
  });
  it.each([
    [12.706, 1, 0.05],
    [2.776, 4, 0.05],
    [3.169, 10, 0.01],
    [2.042, 30, 0.05],
    [1.0, 1, 0.5],
  ])('beyond ±%f of t with %i degrees: %f', (t, degrees, area) => {
    expect(studentBeyond(t, degrees)).toBeCloseTo(area, 3);
  });
});

describe('tolerance factors', () => {
  it('are those of the worked example: 43 values, 90 % with 99 % confidence', () => {
    // NIST/SEMATECH e-Handbook of Statistical Methods, 7.2.6.3: k2 = 2.217.
    expect(toleranceFactor(43, 0.9, 0.99)).toBeCloseTo(2.217, 3);
  });

  // Exact factors for 95 % confidence: P. M. Berthouex and L. C. Brown, Statistics for Environmental Engineers, Table 21.1.
  const TABLE: readonly [n: number, at90: number, at95: number, at99: number][] = [
    [5, 4.29, 5.08, 6.6],
    [6, 3.73, 4.42, 5.76],
    [7, 3.39, 4.02, 5.24],
    [8, 3.16, 3.75, 4.89],
    [9, 2.99, 3.55, 4.63],
    [10, 2.86, 3.39, 4.44],
    [12, 2.67, 3.17, 4.16],
    [15, 2.49, 2.96, 3.89],
    [20, 2.32, 2.76, 3.62],
    [25, 2.22, 2.64, 3.46],
    [30, 2.15, 2.55, 3.35],
    [40, 2.06, 2.45, 3.22],
    [60, 1.96, 2.34, 3.07],
  ];
  // Howe's is an approximation: within 1.5 % of the exact factor from five values on.
  it.each(TABLE)('of %i vehicles agree with the exact ones', (n, at90, at95, at99) => {
    const near = (share: number, told: number) =>
      expect(Math.abs(toleranceFactor(n, share) / told - 1)).toBeLessThan(0.015);
    near(0.9, at90);
    near(0.95, at95);
    near(0.99, at99);
  });
});

describe('ranges free of distribution', () => {
  // Known pairs of Wilks's formula: 93 values for 95 % with 95 %, 38 for 90 % with 90 %, 473 for 99 % with 95 % (from memory).
  it.each([
    [93, 0.95, 0.95],
    [38, 0.9, 0.9],
    [473, 0.99, 0.95],
  ])('%i values are the fewest for %f with %f', (n, share, confidence) => {
    expect(leastToMostConfidence(n, share)).toBeGreaterThanOrEqual(confidence);
    expect(leastToMostConfidence(n - 1, share)).toBeLessThan(confidence);
  });
});

describe('the range of a model', () => {
  it('from few vehicles is what was seen, and no more', () => {
    expect(normalRange([12, 14, 13], 0, false)).toEqual({ method: 'seen', n: 3, low: 12, high: 14 });
  });
  it('from ten is mean ± k · s', () => {
    const values = [9, 10, 11, 10, 9, 11, 10, 10, 9, 11];
    const range = normalRange(values, 0, false);
    expect(range.method).toBe('normal');
    expect((range.high - range.low) / 2).toBeCloseTo(3.39 * 0.8165, 1);
  });
  it('of a hundred is the least and the most', () => {
    const values = Array.from({ length: 100 }, (_, k) => k);
    expect(normalRange(values, 0, false)).toEqual({ method: 'distribution-free', n: 100, low: 0, high: 99 });
  });
  it('of quantities that differ by factors has no negative end, and a few that agree accuse nobody', () => {
    expect(normalRange([0.01, 0.012, 0.02, 0.014, 0.009], 0, true).low).toBeGreaterThan(0);
    const alike = normalRange([0.0142, 0.0142, 0.0142, 0.0142, 0.0142], 0.05, true);
    expect(alike.low).toBeLessThan(0.0125);
    expect(alike.high).toBeGreaterThan(0.0165);
  });
  it('has the probability of a value so far off', () => {
    // Student: with 4 degrees of freedom 2.776 is passed by 5 % on both sides together.
    const values = [-1, -1, 0, 1, 1];
    expect(chanceOf(2.776 * Math.sqrt(1.2), values)).toBeCloseTo(0.05, 3);
  });
});
