import { expect, it } from 'vitest';
import { mixedBy } from '../../../src/log/long/mixed.ts';

const rows = (words: readonly string[]) => words.map((word, k) => [String(k), word]);
const twice = (...words: readonly string[]) => [...words, ...words];

it('finds the column whose words part a column of several quantities', () => {
  const mixed = mixedBy(rows(twice('voltage', 'current')), [12.6, -0.5, 12.5, -0.6], [1]);
  expect(mixed?.by).toBe(1);
  expect(mixed?.groups.map(({ word, rows: n }) => [word, n])).toEqual([
    ['voltage', 2],
    ['current', 2],
  ]);
});

it('is not misled by a state beside a voltage', () => {
  expect(mixedBy(rows(twice('parked', 'running')), [12.6, 14.4, 12.5, 14.3], [1])).toBeUndefined();
});

it('tells unnamed quantities by their size, and by their units', () => {
  expect(mixedBy(rows(twice('ch1', 'ch2')), [12.6, 0.5, 12.5, 0.4], [1])?.by).toBe(1);
  expect(mixedBy(rows(twice('V', 'A')), [12.6, 11, 12.5, 12], [1])?.by).toBe(1);
});

it('takes no numbers for words', () => {
  expect(mixedBy(rows(['1', '2', '1', '2']), [12.6, 0.5, 12.5, 0.4], [1])).toBeUndefined();
});
