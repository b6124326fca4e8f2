import { expect, it } from 'vitest';
import type { Period } from '../../src/analysis/model.ts';
import { mostBy, secondsOf, total } from '../../src/measures/spans.ts';

const period = (kind: Period['kind'], start: number, end: number) => ({ kind, start, end }) as Period;

it('counts only the kinds asked for, and only what lies between the two moments', () => {
  const periods = [period('asleep', 0, 100), period('awake', 100, 130), period('driving', 130, 200)];
  expect(secondsOf(periods, ['asleep', 'awake'], 50, 120)).toBe(70);
  expect(secondsOf(periods, ['driving'], 0, 100)).toBe(0);
});

it('sums, and finds the largest, the first of equals', () => {
  expect(total([1, 2, 3], (n) => n * n)).toBe(14);
  expect(mostBy([{ a: 1 }, { a: 3, first: true }, { a: 3 }], ({ a }) => a)).toEqual({ a: 3, first: true });
  expect(mostBy([], () => 0)).toBeUndefined();
});
