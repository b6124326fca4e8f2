import { expect, it } from 'vitest';
import { spreadOf } from '../../../src/measures/portrait/spread-of.ts';

// Type 7 of Hyndman and Fan: the p-quantile of n values lies at place (n − 1)·p.
it('gives the middle, and what 5 and 95 % lie below', () => {
  expect(spreadOf(Array.from({ length: 21 }, (_, k) => 20 - k))).toEqual({ p05: 1, p50: 10, p95: 19 });
  expect(spreadOf([4])).toEqual({ p05: 4, p50: 4, p95: 4 });
  expect(spreadOf([])).toBeNull();
});
