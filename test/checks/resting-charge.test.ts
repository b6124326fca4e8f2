import { expect, test } from 'vitest';
import { check } from '../../src/checks/resting-charge.ts';
import { session, standing, week } from './analysis-fixture.ts';

const ask = (story: Parameters<typeof week>[0], changes = {}) => check.answer(week(story), session(changes));

test('12.62 V after a night is a full flooded battery', () => {
  const answer = ask({ restV: 12.62 });
  expect(answer.status).toBe('clear');
  expect(answer.measured?.value).toBeGreaterThan(0.9);
});

test('12.05 V is a battery that needs charging', () => {
  const answer = ask({ restV: 12.05 });
  expect(answer.status).toBe('fault');
  // 25 % at 12.0 V and 50 % at 12.2 V: US Army TM 5-3805-262-20, p. 5-142.
  expect(answer.measured?.value).toBeGreaterThan(0.2);
  expect(answer.measured?.value).toBeLessThan(0.45);
});

test('12.4 V lies on the limit: no verdict', () => {
  expect(ask({ restV: 12.4 })).toMatchObject({ status: 'undecided', reason: 'limit-within-uncertainty' });
});

test('24 V reads as two batteries', () => {
  const answer = ask({ scale: 2, restV: 12.62 }, { vehicle: { systemV: 24 } });
  expect(answer).toMatchObject({ status: 'clear', facts: { twoBatteries: true } });
});

test('the latest rest counts', () => {
  expect(ask({ restV: (k) => (k < 7 ? 12.62 : 12.05) }).status).toBe('fault');
  expect(ask({ restV: (k) => (k < 7 ? 12.05 : 12.62) }).status).toBe('clear');
});

test('good but falling by more than both uncertainties is worth watching', () => {
  const limits = { restingCharge: { value: 0.3, source: 'test' } };
  expect(ask({ restV: (k) => (k < 7 ? 12.66 : 12.3) }, { limits }).status).toBe('watch');
});

test('a rest of three hours still has surface charge', () => {
  expect(check.answer(standing(3), session())).toMatchObject({ status: 'undecided', reason: 'surface-charge' });
});

test('a long rest that began before the log counts by what was seen of it', () => {
  expect(check.answer(standing(30), session())).toMatchObject({ status: 'clear', facts: { restWhole: false } });
});

test.each([
  ['no-stand', { ...week(), stands: [] }, {}],
  ['no-rest', standing(0.5), {}],
  ['drawn-on', week({ settleS: null, awakeA: 2 }), {}],
  ['flat-curve', week({ restV: 13.2 }), { battery: { chemistry: 'lfp' as const } }],
])('undecided: %s', (reason, analysis, changes) => {
  expect(check.answer(analysis, session(changes))).toMatchObject({ status: 'undecided', reason });
});

test('voltage alone is enough, at a wider uncertainty', () => {
  const blind = ask({ current: false, temperature: false });
  const seeing = ask({});
  expect(blind.status).toBe('clear');
  expect(blind.measured?.uncertainty).toBeGreaterThan(seeing.measured?.uncertainty ?? Number.POSITIVE_INFINITY);
});
