import { expect, test } from 'vitest';
import { check } from '../../src/checks/log-length.ts';
import { session, standing, week } from './analysis-fixture.ts';

const baseline = { session: { purpose: 'baseline' as const } };

test('a week with its nights is long enough', () => expect(check.answer(week(), session()).status).toBe('clear'));

test('a complaint asks for a day and a night, a baseline for a night', () => {
  expect(check.answer(standing(14), session())).toMatchObject({ status: 'watch', limit: { value: 86_400 } });
  expect(check.answer(standing(14), session(baseline))).toMatchObject({ status: 'clear', limit: { value: 43_200 } });
  expect(check.answer(standing(6), session(baseline))).toMatchObject({ status: 'watch', variant: 'short' });
  expect(check.answer(standing(0.5), session(baseline)).status).toBe('fault');
});

test('a log that holds no sleep does not answer', () => {
  const analysis = week();
  const sleepless = {
    ...analysis,
    stands: analysis.stands.map((one) => ({
      ...one,
      asleepS: 0,
      sleepDrawA: null,
      end: one.start + 1800,
      countedS: 1800,
    })),
  };
  expect(check.answer(sleepless, session())).toMatchObject({ status: 'fault', variant: 'no-sleep' });
});

test('some sleep, but no full hour of it, is between', () => {
  const analysis = week();
  const dozing = { ...analysis, stands: analysis.stands.map((one) => ({ ...one, asleepS: 1500 })) };
  expect(check.answer(dozing, session()).status).toBe('watch');
});

test('long nights that were never slept in do answer', () => {
  expect(check.answer(week({ settleS: null, awakeA: 2 }), session()).status).toBe('clear');
});

test('without current a long stand must do', () => {
  expect(check.answer(week({ current: false }), session())).toMatchObject({
    status: 'clear',
    facts: { hasCurrent: false },
  });
});
