import { expect, it } from 'vitest';
import { sleepsLate, sleepTimes } from '../../src/measures/sleep-times.ts';
import { session, week } from '../checks/analysis-fixture.ts';

it('takes stands from a key-off that the log holds, undisturbed until sleep', () => {
  const analysis = week();
  const { slept } = sleepTimes(analysis, session());
  expect(slept).toHaveLength(analysis.stands.length - 1);
  const [, second] = analysis.stands;
  const charged = {
    ...analysis.periods[0],
    kind: 'on-charger' as const,
    start: second.start + 60,
    end: second.start + 120,
  };
  const disturbed = { ...analysis, periods: [...analysis.periods, charged].toSorted((a, b) => a.start - b.start) };
  expect(sleepTimes(disturbed, session()).slept.map(({ start }) => start)).not.toContain(second.start);
});

it('is late only where that is beyond doubt: the ends are known to half a minute each', () => {
  const { U } = sleepTimes(week(), session());
  expect(sleepsLate(week({ settleS: 3600 + U - 1 }), session())).toBe(false);
  expect(sleepsLate(week({ settleS: 3600 + U + 1 }), session())).toBe(true);
  expect(sleepsLate(week(), session())).toBe(false);
});

it('one late stand is enough, and so is one that never slept', () => {
  expect(sleepTimes(week({ settleS: (k) => (k === 3 ? 7200 : 900) }), session()).late).toHaveLength(1);
  const never = week({ settleS: (k) => (k === 3 ? null : 900), awakeA: 3 });
  expect(sleepTimes(never, session()).awake).toHaveLength(1);
  expect(sleepsLate(never, session())).toBe(true);
});
