import fc from 'fast-check';
import { expect, it } from 'vitest';
import { editDistance, nearest } from '../../src/base/nearest.ts';

it('counts insertions, deletions, substitutions and swapped neighbours', () => {
  expect(editDistance('', 'abc')).toBe(3);
  expect(editDistance('kitten', 'sitting')).toBe(3);
  expect(editDistance('vehicel', 'vehicle')).toBe(1);
  expect(editDistance('same', 'same')).toBe(0);
});

it('is a distance', () => {
  const word = fc.stringMatching(/^[ab_]{0,6}$/);
  fc.assert(
    fc.property(word, word, (a, b) => {
      expect(editDistance(a, b)).toBe(editDistance(b, a));
      expect(editDistance(a, b) === 0).toBe(a === b);
      expect(editDistance(a, b)).toBeGreaterThanOrEqual(Math.abs(a.length - b.length));
    }),
  );
});

it('names what is near, and nothing that is not', () => {
  const known = ['repair_order', 'registration', 'max', 'min'];
  expect(nearest('Repair Order', known)).toBe('repair_order');
  expect(nearest('repair-ordr', known)).toBe('repair_order');
  expect(nearest('mx', known)).toBe('max');
  expect(nearest('colour', known)).toBeUndefined();
  expect(nearest('', known)).toBeUndefined();
  expect(nearest('x'.repeat(1e6), known)).toBeUndefined();
});
