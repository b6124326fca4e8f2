import { expect, test } from 'vitest';
import type { Period } from '../../src/analysis/model.ts';
import { netChargeAh } from '../../src/measures/charge-counted.ts';

const period = (start: number, end: number, chargeInAh: number, chargeOutAh: number): Period => ({
  kind: 'asleep',
  start,
  end,
  evidence: [],
  certainty: 1,
  chargeInAh,
  chargeOutAh,
});

test('a period counts with the share of it that lies between the two moments', () => {
  const periods = [period(0, 100, 0, 2), period(100, 200, 5, 1), period(200, 300, 0, 3)];
  expect(netChargeAh(periods, 0, 300)).toBeCloseTo(-1, 12);
  expect(netChargeAh(periods, 100, 200)).toBeCloseTo(4, 12);
  expect(netChargeAh(periods, 50, 225)).toBeCloseTo(-1 + 4 - 0.75, 12);
  expect(netChargeAh(periods, 400, 500)).toBe(0);
});
