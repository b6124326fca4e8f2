import { expect, test } from 'vitest';
import { check } from '../../src/checks/sleep-time.ts';
import { session, standing, week } from './analysis-fixture.ts';

const ask = (story: Parameters<typeof week>[0], changes = {}) => check.answer(week(story), session(changes));

test('asleep in a quarter of an hour is clear; the slowest stand is told', () => {
  const answer = ask({ settleS: (k) => (k === 3 ? 1200 : 900) });
  expect(answer.status).toBe('clear');
  expect(answer.measured?.value).toBe(1200);
  expect(answer.facts?.typicalS).toBe(900);
});

test('late as a rule is a fault', () => expect(ask({ settleS: 5400 }).status).toBe('fault'));

test('late once, and not by much, is worth watching: somebody may have sat in it', () => {
  expect(ask({ settleS: (k) => (k === 3 ? 5400 : 900) }).status).toBe('watch');
});

test('late several times is no mishap, though most stands were in time', () => {
  expect(ask({ settleS: (k) => (k === 3 || k === 5 ? 5400 : 900) }).status).toBe('fault');
});

test('late once by more than twice the limit is a fault', () => {
  expect(ask({ settleS: (k) => (k === 4 ? 10_800 : 900) }).status).toBe('fault');
});

test('a limit within value ± U gives no verdict', () => {
  expect(ask({ settleS: 3600 })).toMatchObject({ status: 'undecided', reason: 'limit-within-uncertainty' });
});

test('one night without sleep among good ones is a fault of its own kind', () => {
  const answer = ask({ settleS: (k) => (k === 6 ? null : 900), awakeA: 1.5 });
  expect(answer).toMatchObject({ status: 'fault', variant: 'never-asleep', facts: { awakeStands: 1, stands: 14 } });
});

test('no sleep seen at a draw that is not clearly over the limit may be the sensor: no accusation', () => {
  expect(ask({ settleS: null, awakeA: 0.052, sleepUA: 0.01 })).toMatchObject({
    status: 'undecided',
    reason: 'no-settling-seen',
  });
});

test('a stand that began before the log does not count', () => {
  expect(check.answer(standing(30), session())).toMatchObject({ status: 'undecided', reason: 'no-settling-seen' });
});

test('a stand with a hole before sleep does not count', () => {
  const analysis = week({ settleS: 5400 });
  const holed = {
    ...analysis,
    periods: analysis.periods.flatMap((one) =>
      one.kind === 'settling'
        ? [
            { ...one, end: one.start + 600 },
            { ...one, kind: 'no-data' as const, start: one.start + 600 },
          ]
        : [one],
    ),
  };
  expect(check.answer(holed, session())).toMatchObject({ status: 'undecided', reason: 'no-settling-seen' });
});

test('the manifest may ask for sleep sooner', () => {
  const limits = { sleepWithin: { value: 600, source: 'Service information' } };
  expect(ask({ settleS: 900 }, { limits })).toMatchObject({
    status: 'fault',
    limit: { source: 'Service information' },
  });
});

test('late at times and late each time are two stories, and half of two slept no later than the quicker', () => {
  const atTimes = check.answer(week({ settleS: (k) => (k === 3 ? 9000 : 900) }), session());
  expect(atTimes).toMatchObject({ status: 'fault', variant: 'at-times', facts: { lateStands: 1, atTimes: true } });
  const each = check.answer(week({ settleS: 9000 }), session());
  expect(each).toMatchObject({ status: 'fault', facts: { atTimes: false } });
  expect(each.variant).toBeUndefined();
  const two = week({ settleS: (k) => (k === 3 ? 9000 : 900) });
  const [quick, slow] = [two.stands[2], two.stands[3]];
  expect(check.answer({ ...two, stands: [quick, slow] }, session()).facts).toMatchObject({
    typicalS: 900,
    slowestS: 9000,
  });
});
