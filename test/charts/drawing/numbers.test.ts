import { expect, test } from 'vitest';
import { fixed, quantity, quantityPm, rounded, short, tickLabels } from '../../../src/charts/drawing/numbers.ts';
import { niceTicks } from '../../../src/charts/drawing/ticks.ts';
import { ENGLISH } from '../english.ts';

const comma = { ...ENGLISH, decimalMark: ',' } as const;

test.each([
  [0.047, 'A', '47\u00a0mA'],
  [1.25, 'A', '1.25\u00a0A'],
  [-0.0123, 'A', '−12.3\u00a0mA'],
  [0.00512, 'Ω', '5.12\u00a0mΩ'],
  [90, 's', '90\u00a0s'],
  [2700, 's', '45\u00a0min'],
  [9000, 's', '2.5\u00a0h'],
  [14 * 86_400, 's', '14\u00a0days'],
  [0.755, '1', '75.5\u00a0%'],
  [12.6, 'V', '12.6\u00a0V'],
  [0, 'A', '0\u00a0mA'],
] as const)('%d %s reads %s', (value, unit, text) => {
  expect(quantity(value, unit, ENGLISH)).toBe(text);
});

test.each([
  [0.0473, 0.0061, 'A', '47\u00a0mA\u00a0±\u00a06\u00a0mA'],
  [0.0473, 0.0012, 'A', '47.3\u00a0mA\u00a0±\u00a01.2\u00a0mA'],
  [12.342, 0.034, 'V', '12.34\u00a0V\u00a0±\u00a00.03\u00a0V'],
  [1234, 310, 'V', '1234\u00a0V\u00a0±\u00a0310\u00a0V'],
] as const)('%d ± %d %s reads %s', (value, uncertainty, unit, text) => {
  expect(quantityPm(value, uncertainty, unit, ENGLISH)).toBe(text);
});

test('an uncertainty that cannot be given is left out, not zero', () => {
  expect(quantityPm(0.05, null, 'A', ENGLISH)).toBe('50\u00a0mA');
  expect(quantityPm(0.05, Number.POSITIVE_INFINITY, 'A', ENGLISH)).toBe('50\u00a0mA');
});

test('another language’s decimal mark', () => {
  expect(quantityPm(12.342, 0.034, 'V', comma)).toBe('12,34\u00a0V\u00a0±\u00a00,03\u00a0V');
});

test('nothing rounds to minus zero', () => {
  expect(fixed(-0.001, 2, ENGLISH)).toBe('0.00');
  expect(short(-0.5, ENGLISH)).toBe('−0.5');
});

test('ticks of one axis have the same decimals', () => {
  expect(tickLabels([9.25, 9.3, 10], ENGLISH)).toEqual(['9.25', '9.30', '10.00']);
});

test.each([
  [0, 47, 5],
  [-3.2, 14.9, 4],
  [12.31, 12.32, 3],
  [5, 5, 4],
  [-610, 40, 4],
])('round ticks hold %d to %d', (low, high, count) => {
  const { values, domain } = niceTicks(low, high, count);
  expect(domain[0]).toBeLessThanOrEqual(low);
  expect(domain[1]).toBeGreaterThanOrEqual(high);
  expect(values.length).toBeGreaterThanOrEqual(2);
  expect(values.length).toBeLessThanOrEqual(count + 3);
  for (const value of values) expect(rounded(value, 5)).toBe(value);
});
