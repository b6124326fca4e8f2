import { expect, it } from 'vitest';
import type { Period } from '../../src/analysis/model.ts';
import { surenessOf } from '../../src/measures/sureness.ts';

const period = (kind: Period['kind'], start: number, end: number, certainty: number) =>
  ({ kind, start, end, certainty }) as Period;

it('weighs each period by its length, and asks only for those of the kinds', () => {
  const periods = [period('asleep', 0, 300, 1), period('asleep', 300, 400, 0.2), period('driving', 400, 9999, 0)];
  expect(surenessOf({ periods }, ['asleep'])).toBeCloseTo(0.8, 12);
});

it('nothing speaks against what never happened', () => {
  expect(surenessOf({ periods: [] }, ['driving'])).toBe(1);
});
