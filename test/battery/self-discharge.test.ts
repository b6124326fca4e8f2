import { describe, expect, it } from 'vitest';
import { selfDischargePerDay } from '../../src/battery/self-discharge.ts';

describe('flooded, against US Army TM 9-6140-200-14, §4-8 (seen): density lost a day', () => {
  // Of 0.145 from full (1.265) to empty (1.120), TM 5-3820-256-24-4, Table 2 (seen).
  it.each([
    [10, 0.0003],
    [27, 0.001],
    [38, 0.0025],
  ])('at %d °C: %d', (temperatureC, loss) => {
    expect(selfDischargePerDay('flooded', temperatureC).high).toBeCloseTo(loss / 0.145, 6);
  });

  it('doubles with each 8 to 10 °C, also beyond the table', () => {
    const at = (c: number) => selfDischargePerDay('flooded', c).high;
    expect(at(50) / at(40)).toBeGreaterThan(2);
    expect(at(0) / at(10)).toBeLessThan(0.6);
  });
});

it('newer batteries lose about 3 % a month at 25 °C (a maker’s support page, seen: 2 %), and at most half of the table', () => {
  const { low, high } = selfDischargePerDay('agm', 25);
  expect(30 * low).toBeGreaterThan(0.02);
  expect(30 * low).toBeLessThan(0.04);
  expect(high).toBeCloseTo(selfDischargePerDay('flooded', 25).high / 2, 9);
});
