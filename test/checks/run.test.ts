import { expect, test } from 'vitest';
import type { Check } from '../../src/checks/check.ts';
import { runChecks } from '../../src/checks/run.ts';
import { session, week } from './analysis-fixture.ts';

const byId = (...asked: Parameters<typeof runChecks>) =>
  Object.fromEntries(runChecks(...asked).map((one) => [one.check, one]));
const breaking: Check = {
  id: 'breaking',
  about: 'vehicle',
  side: null,
  needs: [],
  limits: [],
  reasons: [],
  cautions: ['general'],
  answer() {
    throw new Error('no such stand');
  },
};

test('a check that throws is undecided with the cause, and the others still answer', () => {
  const sound: Check = { ...breaking, id: 'sound', answer: () => ({ status: 'clear', facts: {} }) };
  expect(runChecks(week(), session(), [breaking, sound])).toMatchObject([
    { check: 'breaking', status: 'undecided', reason: 'check-failed', facts: { cause: 'no such stand' } },
    { check: 'sound', status: 'clear' },
  ]);
});

test('a healthy week is clear throughout', () => {
  const open = runChecks(week(), session()).filter(
    // No channel was set in it, so what they would tell stays open.
    (finding) => finding.status !== 'clear' && finding.reason !== 'not-fitted',
  );
  expect(open).toEqual([]);
});

test('what follows from a high draw says so', () => {
  const found = byId(week({ sleepA: 0.35, restV: 12, crankV: 8.6 }), session());
  expect(found['parked-draw'].follows).toBeUndefined();
  expect(found['stand-time'].follows).toBe('parked-draw');
  expect(found['resting-charge'].follows).toBe('parked-draw');
  expect(found['crank-voltage'].follows).toBe('resting-charge');
});

test('a vehicle that never slept has one cause', () => {
  const found = byId(week({ settleS: null, awakeA: 1.5, restV: 12 }), session());
  expect(found['sleep-time']).toMatchObject({ status: 'fault' });
  expect(found['sleep-time'].follows).toBeUndefined();
  expect(found['parked-draw'].follows).toBe('sleep-time');
});

test('charging that fails explains the balance and the charge', () => {
  const found = byId(week({ driveV: 12.2, driveA: -15, restV: 12 }), session());
  expect(found['charge-balance']).toMatchObject({ status: 'fault', follows: 'charging-low' });
  expect(found['resting-charge'].follows).toBe('charging-low');
});

test('a traction battery adds its caution to work on the vehicle', () => {
  const electric = byId(week({ starter: false }), session({ vehicle: { powertrain: 'electric' } }));
  expect(electric['parked-draw'].cautions).toContain('high-voltage');
  expect(electric['log-coverage'].cautions).toEqual([]);
  expect(byId(week(), session())['parked-draw'].cautions).not.toContain('high-voltage');
});

test('a verdict that rests on periods of which nobody is sure is none', () => {
  const sound = week();
  const unsure = {
    ...sound,
    periods: sound.periods.map((period) => (period.kind === 'driving' ? { ...period, certainty: 0.6 } : period)),
  };
  const found = byId(unsure, session());
  expect(found['charging-low']).toMatchObject({ status: 'undecided', reason: 'unsure-states' });
  expect(found['charge-balance']).toMatchObject({ status: 'undecided', reason: 'unsure-states' });
  expect(found['parked-draw'].status).toBe('clear');
});
