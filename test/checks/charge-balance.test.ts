import { expect, test } from 'vitest';
import { check } from '../../src/checks/charge-balance.ts';
import { session, standing, UNSTATED, week } from './analysis-fixture.ts';

const ask = (story: Parameters<typeof week>[0], changes = {}) => check.answer(week(story), session(changes));

test('drives that put back what the stands take out are clear', () => {
  const answer = ask({ driveA: 4 });
  expect(answer.status).toBe('clear');
  // From the first key-off to the last: 13 drives of half an hour at 4 A (less the second of cranking).
  expect(answer.facts?.inAh).toBeCloseTo(13 * 4 * (1799 / 3600), 6);
  expect(answer.facts?.drives).toBe(13);
});

test('a loss beyond the allowance, at a low charge, is a fault', () => {
  expect(ask({ driveA: 0.2, settleS: 1800, restV: 12.1 }).status).toBe('fault');
});

test('a loss that leaves the battery well charged is worth watching', () => {
  expect(ask({ driveA: 0.2, settleS: 1800, restV: 12.66 }).status).toBe('watch');
});

test('a loss whose charge afterwards is not known is a fault where it is large, and else worth watching', () => {
  const changes = { battery: { chemistry: 'lfp' as const } };
  // 13.1 Ah out, 13 drives of half an hour in: 5.0 Ah lost, between the allowance of 3.5 Ah and twice that.
  expect(ask({ driveA: 1.25, restV: 13.2 }, changes)).toMatchObject({ status: 'watch', facts: { chargeKnown: false } });
  expect(ask({ driveA: 0.2, settleS: 1800, restV: 13.2 }, changes)).toMatchObject({
    status: 'fault',
    facts: { chargeKnown: false },
  });
});

test('the allowance follows the capacity, and has a default without it', () => {
  expect(ask({}).limit?.value).toBeCloseTo(-3.5, 9);
  expect(ask({}, { battery: { capacityAh: undefined } }).limit?.value).toBe(-3);
});

test('an offset that grows with time keeps a near limit open', () => {
  const loss = { driveA: 0.2, settleS: 1800, restV: 12.1 };
  const current = {
    name: 'i',
    unit: 'A' as const,
    positive: 'charging' as const,
    accuracy: { relative: 0, absolute: 0.2 },
  };
  expect(ask(loss, { columns: { current } })).toMatchObject({
    status: 'undecided',
    reason: 'limit-within-uncertainty',
  });
  const stated = ask(loss).measured?.uncertainty ?? Number.POSITIVE_INFINITY;
  expect(ask(loss, UNSTATED).measured?.uncertainty).toBeGreaterThan(stated);
});

test('less than a day between key-offs is no account', () => {
  expect(check.answer(standing(30), session())).toMatchObject({ status: 'undecided', reason: 'no-whole-cycle' });
  expect(ask({ days: 1 })).toMatchObject({ status: 'undecided', reason: 'no-whole-cycle' });
});

test('a hole may hide a drive', () => {
  const analysis = week();
  const holed = {
    ...analysis,
    periods: analysis.periods.map((one, k) => (k === 8 ? { ...one, kind: 'no-data' as const } : one)),
  };
  expect(check.answer(holed, session())).toMatchObject({ status: 'undecided', reason: 'too-much-missing' });
});

test('a shop charger is left out, and no loss is charged to the drives after it', () => {
  const analysis = week({ driveA: 0.2, settleS: 1800, restV: 12.1 });
  const stands = analysis.periods.filter((one) => one.kind === 'asleep');
  const charged = {
    ...analysis,
    periods: analysis.periods.map((one) =>
      one === stands[3] ? { ...one, kind: 'on-charger' as const, chargeInAh: 10, chargeOutAh: 0 } : one,
    ),
  };
  const answer = check.answer(charged, session());
  expect(answer).toMatchObject({ status: 'undecided', reason: 'charger-between', facts: { chargerAh: 10 } });
  expect(answer.facts?.inAh).toBeCloseTo(13 * 0.2 * (1799 / 3600), 6);
  const electric = check.answer(charged, session({ vehicle: { powertrain: 'electric' } }));
  expect(electric.facts?.inAh).toBeCloseTo(13 * 0.2 * (1799 / 3600) + 10, 6);
});
