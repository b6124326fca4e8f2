import { expect, it } from 'vitest';
import { decimalsFor, makeFixed, measureWith, roundTo, significant } from '../../../src/report/words/numbers.ts';

const NBSP = '\u00a0';

// JCGM 100, 7.2.6: at most two significant digits.
it.each([
  [0.023, 2],
  [0.013, 3],
  [0.0999, 2],
  [3, 0],
  [1.4, 1],
  [40, -1],
])('an uncertainty of %f is written to %i decimals', (uncertainty, decimals) => {
  expect(decimalsFor(uncertainty)).toBe(decimals);
});

it('shows so many significant figures, and no more decimals than asked', () => {
  expect(significant(0.01234, 3, 6)).toBe(4);
  expect(significant(0.01234, 3, 2)).toBe(2);
  expect(significant(1234, 3, 6)).toBe(0);
  expect(significant(0, 3, 6)).toBe(0);
});

it('rounds value and uncertainty to the same place', () => {
  const measure = measureWith(makeFixed('en-GB'), 'not known')('mA', 1000, () => 0);
  expect(measure(0.061_37, 0.003_2)).toBe(`61${NBSP}mA${NBSP}±${NBSP}3${NBSP}mA`);
  expect(measure(0.061_37)).toBe(`61${NBSP}mA`);
  expect(measure(null)).toBe('not known');
  expect(measure(Number.NaN)).toBe('not known');
});

it('writes a true minus, groups of three from five digits on, and the language’s own sign', () => {
  expect(makeFixed('en-GB')(-12_345.6, 1)).toBe('\u221212\u202f345.6');
  expect(makeFixed('de-DE')(1234.5, 1)).toBe('1234,5');
  expect(makeFixed('en-GB')(1234, -2)).toBe('1200');
  expect(makeFixed('en-GB')(-0.001, 1)).not.toContain('\u2212');
});

it('rounds to tens too', () => {
  expect(roundTo(1234, -2)).toBe(1200);
  expect(roundTo(1.25, 1)).toBe(1.3);
});
