import { expect, test } from 'vitest';
import { check } from '../../src/checks/current-resolution.ts';
import { session, UNSTATED, week } from './analysis-fixture.ts';
import { answerOf } from './words.ts';

const ask = (accuracyA: number, resolutionA: number, changes = {}, told = {}) =>
  answerOf(
    check,
    { ...week(told), resolution: { v: 0.01, i: resolutionA, temp: 0.1 } },
    session({
      columns: {
        current: { name: 'a', unit: 'A', positive: 'charging', accuracy: { relative: 0, absolute: accuracyA } },
      },
      ...changes,
    }),
  );

test('2 mA and 1 mA tell 50 mA from nothing: 1.74·√((2² + 0.5²)/3) mA stay open', () => {
  const finding = ask(0.002, 0.001);
  expect(finding.status).toBe('clear');
  expect(finding.measured?.value).toBeCloseTo(0.00207, 5);
});

test('more than a quarter of the limit leaves a wide band open', () => {
  expect(ask(0.02, 0.001)).toMatchObject({ status: 'watch' });
});

test('an offset, or steps, as large as the limit: nothing can be told', () => {
  expect(ask(0.055, 0.001).status).toBe('fault');
  expect(ask(0.002, 0.11).status).toBe('fault');
});

test('the manifest’s limit is what counts', () => {
  expect(ask(0.02, 0.001, { limits: { parkedDraw: { value: 0.2, source: 'test' } } }).status).toBe('clear');
});

test('an accuracy that nobody stated stays open, unless the steps alone are too coarse', () => {
  expect(answerOf(check, week(), session(UNSTATED))).toMatchObject({
    status: 'undecided',
    reason: 'accuracy-unstated',
  });
  const coarse = { ...week(), resolution: { v: 0.01, i: 1, temp: 0.1 } };
  expect(answerOf(check, coarse, session(UNSTATED)).status).toBe('fault');
});

test('a sleep of exactly nought is no measurement', () => {
  expect(ask(0.002, 0.001, {}, { sleepA: 0 })).toMatchObject({ status: 'watch', variant: 'reads-nought' });
  expect(ask(0.002, 0.001, {}, { sleepA: (k: number) => (k === 3 ? 0 : 0.01) }).status).toBe('clear');
});

test('a log of one number, which shows no steps, leaves open what its rounding may hide', () => {
  const unsure = (unseenA: number) => {
    const analysis = week({ sleepA: 2 * unseenA });
    const stands = analysis.stands.map((stand) => ({ ...stand, unseenA }));
    const resolution = { ...analysis.resolution, i: 0 };
    return check.answer({ ...analysis, stands, resolution }, session());
  };
  expect(unsure(0.001).status).toBe('clear');
  expect(unsure(0.02)).toMatchObject({ status: 'watch', facts: { resolutionSeen: false } });
  expect(unsure(0.02).measured?.value).toBeGreaterThan((2 * 0.02) / Math.sqrt(3));
  expect(unsure(0.06).status).toBe('fault');
});
