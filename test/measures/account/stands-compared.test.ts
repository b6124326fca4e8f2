import { expect, test } from 'vitest';
import { heldLoads } from '../../../src/measures/account/held-loads.ts';
import { standsCompared } from '../../../src/measures/account/stands-compared.ts';
import { session, week } from '../../checks/analysis-fixture.ts';

const dayOf = (t: number) => new Date(t * 1000).getUTCDay();

/** In some stands of three weeks, told by their begin and number, 0.5 A stay on from key-off to key-on. */
function stuckIn(isStuck: (start: number, k: number) => boolean, sleepA = 0.018) {
  const analysis = week({ days: 21, sleepA });
  const loads = analysis.stands.flatMap(({ start, end }, stand) => {
    if (!isStuck(start, stand)) return [];
    const seconds = end - start;
    const span = { start, end, stand, seconds, meanA: 0.5, chargeAh: (0.5 * seconds) / 3600 };
    return [{ ...span, from: 'key-off' as const, until: 'key-on' as const }];
  });
  heldLoads.given(analysis, loads);
  return standsCompared(analysis, { ...session(), timezone: 'UTC' });
}

test('a load that stays on one day of the week, and on no other, is told with that day', () => {
  const compared = stuckIn((start) => dayOf(start) === 3);
  expect(compared?.withLoad).toBeGreaterThanOrEqual(3);
  expect(dayOf(compared?.weekdayT ?? 0)).toBe(3);
});

test('no day of the week is told where another stand of that day went without it, or where they are on several days', () => {
  const compared = stuckIn((start, k) => dayOf(start) === 3 && k > 10);
  expect(compared).not.toBeNull();
  expect(compared?.weekdayT).toBeNull();
  expect(stuckIn((start) => dayOf(start) === 3 || dayOf(start) === 5)?.weekdayT).toBeNull();
});

test('once shows no day of the week', () => {
  expect(stuckIn((_, k) => k === 4)).toMatchObject({ withLoad: 1, weekdayT: null });
});

test('a level into the battery is nothing to compare with', () => {
  expect(stuckIn((_, k) => k === 4)).not.toBeNull();
  expect(stuckIn((_, k) => k === 4, -0.11)).toBeNull();
});
