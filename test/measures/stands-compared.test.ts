import { expect, test } from 'vitest';
import { standsCompared } from '../../src/measures/account/stands-compared.ts';
import { session, week } from '../checks/analysis-fixture.ts';

const dayOf = (t: number) => new Date(t * 1000).getUTCDay();
const THREE_WEEKS = { days: 21, awakeA: 0.5 };
/** In some stands, told by their number and begin, the vehicle stays awake at 0.5 A from key-off to key-on. */
const stuckIn = (isStuck: (start: number, k: number) => boolean) => {
  const starts = week(THREE_WEEKS).stands.map(({ start }) => start);
  const analysis = week({ ...THREE_WEEKS, settleS: (k) => (isStuck(starts[k] ?? 0, k) ? null : 900) });
  return standsCompared(analysis, session());
};

test('a load that stays on one day of the week, and on no other, is told with that day', () => {
  const compared = stuckIn((start) => dayOf(start) === 3);
  expect(compared?.weekdayT).not.toBeNull();
  expect(dayOf(compared?.weekdayT ?? 0)).toBe(3);
});

test('no day of the week is told where another stand of that day went without it, or where they are on several days', () => {
  expect(stuckIn((start, k) => dayOf(start) === 3 && k > 10)?.weekdayT).toBeNull();
  expect(stuckIn((start) => dayOf(start) === 3 || dayOf(start) === 5)?.weekdayT).toBeNull();
});

test('once shows no day of the week', () => {
  expect(stuckIn((_, k) => k === 4)?.weekdayT).toBeNull();
});

test('a level into the battery is nothing to compare with', () => {
  const compared = (sleepA: number) =>
    standsCompared(week({ sleepA, awakeA: 0.5, settleS: (k) => (k === 4 ? null : 900) }), session());
  expect(compared(0.018)).not.toBeNull();
  expect(compared(-0.11)).toBeNull();
});
