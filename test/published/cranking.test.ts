import { describe, expect, it } from 'vitest';
import { crankingMinimumV, INRUSH_S, LONGEST_CRANK_S, POSITIVE_CABLE_DROP_V } from '../../src/battery/cranking.ts';

describe('lowest voltage while cranking', () => {
  // US Army TM 5-4210-230-14&P-1, Table 5 (seen), 12 V
  it.each([
    [21, 9.6],
    [16, 9.5],
    [10, 9.4],
    [4, 9.3],
    [-1, 9.1],
    [-7, 8.9],
    [-12, 8.7],
    [-18, 8.5],
  ])('at %i °C is %f V', (temperatureC, volts) => {
    expect(crankingMinimumV(12, temperatureC)).toBeCloseTo(volts, 9);
    expect(crankingMinimumV(24, temperatureC)).toBeCloseTo(2 * volts, 9);
    expect(crankingMinimumV(6, temperatureC)).toBeCloseTo(volts / 2, 9);
  });

  it('lies between neighbouring rows, and is held beyond the ends', () => {
    expect(crankingMinimumV(12, 13)).toBeCloseTo(9.45, 9);
    expect(crankingMinimumV(12, 40)).toBe(9.6);
    expect(crankingMinimumV(12, -30)).toBe(8.5);
  });
});

// TM 10-3930-671-24, p. F-303 (seen)
describe('starter cable', () => {
  it('may lose 0.4 V while cranking', () => {
    expect(POSITIVE_CABLE_DROP_V).toBe(0.4);
  });
});

// common practice, no source: the inrush lasts 0.1 to 0.3 s
it('leaves out the whole inrush', () => {
  expect(INRUSH_S).toBe(0.3);
});

// TM 10-3930-671-24, p. F-303 (seen)
it('cranks for 30 s at most', () => {
  expect(LONGEST_CRANK_S).toBe(30);
});
