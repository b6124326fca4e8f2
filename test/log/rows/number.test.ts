import { expect, it } from 'vitest';
import { readNumber, sniffDecimal } from '../../../src/log/rows/number.ts';

it.each([
  ['12.6', '.', 12.6],
  [' -0,5 ', ',', -0.5],
  ['.5', '.', 0.5],
  ['1e-3', '.', 0.001],
  ['1,234.5', '.', 1234.5],
  ['1.234,5', ',', 1234.5],
  ["1'234.5", '.', 1234.5],
  ['1\u202f234,5', ',', 1234.5],
] as const)('reads "%s" with the decimal sign "%s"', (cell, decimal, value) => {
  expect(readNumber(cell, decimal)).toBe(value);
});

it.each(['', 'NaN', 'n/a', '--', '?'])('"%s" says that there is none', (cell) => {
  expect(readNumber(cell, '.')).toBeNaN();
});

it.each([
  ['12.6', ','],
  ['12,6', '.'],
  ['12.6.1', '.'],
  ['0x10', '.'],
  ['Infinity', '.'],
] as const)('"%s" is no number with the decimal sign "%s"', (cell, decimal) => {
  expect(readNumber(cell, decimal)).toBeUndefined();
});

it('lets its own unit follow, and no other', () => {
  expect(readNumber('12.6 V', '.', 'V')).toBe(12.6);
  expect(readNumber('12.6 mV', '.', 'V')).toBeUndefined();
});

it('tells the decimal sign by the cells, and says where it cannot', () => {
  expect(sniffDecimal(['12,6', '12,55'])).toEqual({ decimal: ',' });
  expect(sniffDecimal(['12.6', '0'])).toEqual({ decimal: '.' });
  expect(sniffDecimal(['1.234,5'])).toEqual({ decimal: ',' });
  expect(sniffDecimal(['1,234'])).toEqual({ unsure: '1,234' });
  expect(sniffDecimal(['1,234', '12.6'])).toEqual({ decimal: '.' });
});
