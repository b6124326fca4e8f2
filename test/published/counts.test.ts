import { describe, expect, it } from 'vitest';
import { expectedToSee, poissonBounds } from '../../src/battery/counts.ts';

describe('Poisson bounds, 95 %', () => {
  // Garwood 1936, as in every table of exact Poisson limits (from memory)
  it.each([
    [0, 0, 3.689],
    [1, 0.0253, 5.572],
    [5, 1.623, 11.668],
    [10, 4.795, 18.39],
    [100, 81.36, 121.63],
  ])('%i seen: %f to %f', (count, low, high) => {
    expect(poissonBounds(count).low).toBeCloseTo(low, 2);
    expect(poissonBounds(count).high).toBeCloseTo(high, 2);
  });
});

describe('how many to expect so as to see some', () => {
  // "rule of three" (common knowledge): −ln 0.05 = 2.996; for two, half the 90 % point of chi-squared with 4 degrees (from memory): 3.890
  it('one with 95 %, two with 90 %', () => {
    expect(expectedToSee(1, 0.95)).toBeCloseTo(2.996, 3);
    expect(expectedToSee(2, 0.9)).toBeCloseTo(3.89, 3);
  });
});
