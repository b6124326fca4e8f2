import { expect, it } from 'vitest';
import { levelOf, sleepingLevel } from '../../../src/measures/account/sleeping-level.ts';
import { session, week } from '../../checks/analysis-fixture.ts';

it('is the middle of all stands, and of the settlings that were in time', () => {
  const analysis = week({ sleepA: (k) => (k === 3 ? 0.5 : 0.02), settleS: (k) => (k === 3 ? 9000 : 600) });
  const level = sleepingLevel(analysis, session());
  expect(level).toEqual({ usualA: 0.02, settleS: 600 });
  expect(levelOf(analysis.stands[3], level)).toBe(0.5);
});

it('a stand that never slept has the vehicle’s level, a vehicle that never did has none', () => {
  const analysis = week({ settleS: (k) => (k === 4 ? null : 600) });
  const awake = { ...analysis.stands[4], sleepDrawA: null };
  expect(levelOf(awake, sleepingLevel(analysis, session()))).toBe(0.018);
  const never = week({ settleS: null, current: false });
  expect(sleepingLevel(never, session()).usualA).toBeNull();
  expect(levelOf(awake, { usualA: null, settleS: 600 })).toBe(0);
});
