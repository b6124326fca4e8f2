/** Held against a sort of all values, which the histogram does without. */
import { describe, expect, it } from 'vitest';
import { AMPERES, createDistribution, VOLTS } from '../../../src/measures/portrait/distribution.ts';

/** Numbers that repeat, evenly in 0 to 1. */
function lots(n: number): number[] {
  let a = 12345;
  return Array.from({ length: n }, () => {
    a = (a * 1664525 + 1013904223) % 4294967296;
    return a / 4294967296;
  });
}

function bySorting(values: readonly number[], seconds: readonly number[], p: number): number {
  const order = values.map((_, k) => k).toSorted((a, b) => (values[a] ?? 0) - (values[b] ?? 0));
  const goal = p * seconds.reduce((a, b) => a + b, 0);
  let below = 0;
  for (const k of order) {
    below += seconds[k] ?? 0;
    if (below >= goal) return values[k] ?? Number.NaN;
  }
  return Number.NaN;
}

describe('a distribution', () => {
  it.each([0.01, 0.05, 0.25, 0.5, 0.75, 0.95, 0.99])('of milliamperes and hundreds of amperes is right at %f', (p) => {
    const values = lots(4000).map((u, k) => (k % 2 ? -1 : 1) * 0.005 * 10 ** (5 * u));
    const seconds = lots(4001).slice(1);
    const found = createDistribution(AMPERES);
    values.forEach((value, k) => {
      found.add(value, seconds[k] ?? 0);
    });
    const sorted = bySorting(values, seconds, p);
    expect(Math.abs(found.quantile(p) - sorted)).toBeLessThan(0.005 * Math.abs(sorted) + 5e-6);
  });

  it('of voltage is right to 5 mV', () => {
    const values = lots(3000).map((u) => 9 + 6 * u * u);
    const found = createDistribution(VOLTS);
    for (const value of values) found.add(value, 1);
    const one = values.map(() => 1);
    for (const p of [0.05, 0.5, 0.95])
      expect(Math.abs(found.quantile(p) - bySorting(values, one, p))).toBeLessThan(0.005);
  });

  it('gives a value that is read over and over as it is', () => {
    const found = createDistribution(AMPERES);
    for (let k = 0; k < 1000; k++) found.add(k % 10 === 0 ? -2.5 : -0.0143, 0.1);
    expect(found.spread()?.p50).toBeCloseTo(-0.0143, 12);
    expect(found.spread()?.p05).toBeCloseTo(-2.5, 12);
    expect(found.seconds).toBeCloseTo(100, 9);
  });

  it('of nothing says nothing', () => {
    const found = createDistribution(VOLTS);
    found.add(Number.NaN, 1);
    found.add(12, 0);
    expect(found.spread()).toBeNull();
    expect(found.held()).toEqual([]);
  });
});
