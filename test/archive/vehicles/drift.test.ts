import { expect, it } from 'vitest';
import { driftOf } from '../../../src/archive/vehicles/drift.ts';

const MONTH_MS = 30.4375 * 86_400_000;
const START = Date.UTC(2024, 0, 10);

/** Readings a month apart, each with U (k = 2) of 2 mA. */
const monthly = (values: readonly (number | null)[], uncertainty: number | null = 0.002) =>
  values.map((value, k) => ({ atMs: START + k * MONTH_MS, reading: { value, uncertainty } }));

it('says nothing of three sessions, nor of figures that are not known', () => {
  expect(driftOf(monthly([0.02, 0.021, 0.019]))).toBeNull();
  expect(driftOf(monthly([0.02, null, 0.021, null, 0.019]))).toBeNull();
});

it('finds none where the figures stray by what they leave open', () => {
  const drift = driftOf(monthly([0.02, 0.021, 0.0195, 0.0205, 0.0215, 0.0195, 0.0205, 0.02]));
  expect(drift).toMatchObject({ sinceMs: null, perYear: null, last: 0.02 });
  expect(drift?.usual).toBeCloseTo(0.0202, 4);
});

it('tells a step at the session that shows it, upward or downward', () => {
  for (const after of [0.045, 0.004]) {
    expect(driftOf(monthly([0.02, 0.021, 0.0195, 0.0205, after, after]))?.sinceMs).toBe(START + 4 * MONTH_MS);
  }
});

it('tells a slow rise once it has added up, though no session alone would', () => {
  // Each step is less than U; strays of u are 0, 1, 2, 3 … halves, less the slack.
  const rise = driftOf(monthly(Array.from({ length: 10 }, (_, k) => 0.02 + 0.0012 * Math.max(0, k - 2))));
  expect(rise?.sinceMs).toBeGreaterThan(START + 4 * MONTH_MS);
  expect(rise?.sinceMs).toBeLessThan(START + 9 * MONTH_MS);
});

it('gives the change a year with its uncertainty, where it is clear', () => {
  // 3 mA a month on a straight line; what is left open is u / √Σ(years − mean)², by hand for seven months.
  const line = Array.from({ length: 7 }, (_, k) => 0.02 + 0.003 * k);
  const drift = driftOf(monthly(line));
  expect(drift?.perYear?.value).toBeCloseTo(0.036, 6);
  expect(drift?.perYear?.U).toBeCloseTo((2 * 0.001) / Math.sqrt(28 / 144), 6);
  // Four sessions are no history, and half of that rise is less than what is left open.
  expect(driftOf(monthly(line.slice(0, 4)))?.perYear).toBeNull();
  expect(driftOf(monthly(line.map((value) => 0.02 + (value - 0.02) / 6)))?.perYear).toBeNull();
});

it('does not divide by nothing where no uncertainty is known and all figures are the same', () => {
  expect(driftOf(monthly([5, 5, 5, 5, 5], null))).toMatchObject({ sinceMs: null, usual: 5 });
});
