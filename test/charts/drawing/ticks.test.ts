import { expect, it } from 'vitest';
import { niceTicks } from '../../../src/charts/drawing/ticks.ts';

it.each([
  [12.1, 14.7, 5, [12, 13, 14, 15]],
  [0, 0.061, 5, [0, 0.02, 0.04, 0.06, 0.08]],
  [-20, 35, 5, [-20, 0, 20, 40]],
  [0, 1, 5, [0, 0.2, 0.4, 0.6, 0.8, 1]],
])('from %f to %f', (low, high, count, values) => {
  const ticks = niceTicks(low, high, count);
  expect(ticks.values).toEqual(values);
  expect(ticks.domain).toEqual([values[0], values.at(-1)]);
});

it('holds everything, also a single value', () => {
  for (const value of [0, 12.6, -0.02, 1e-6]) {
    const { domain } = niceTicks(value, value, 5);
    expect(domain[0]).toBeLessThanOrEqual(value);
    expect(domain[1]).toBeGreaterThanOrEqual(value);
    expect(domain[1]).toBeGreaterThan(domain[0]);
  }
});
