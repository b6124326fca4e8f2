import { expect, test } from 'vitest';
import { check } from '../../src/checks/charging-high.ts';
import { nothing, session, week } from './analysis-fixture.ts';

const ask = (story: Parameters<typeof week>[0], changes = {}) => check.answer(week(story), session(changes));

test('14.2 V is clear', () => expect(ask({}).status).toBe('clear'));

test('15.6 V for most of a drive is a fault', () => {
  const answer = ask({ driveV: 15.6, temperatureC: 20 });
  expect(answer).toMatchObject({ status: 'fault', limit: { value: 15.3 } });
  expect(answer.measured?.value).toBe(15.6);
});

test('what some maker regulates to is no fault', () => {
  for (const driveV of [14.6, 14.85, 14.9]) expect(ask({ driveV, temperatureC: 20 }).status).toBe('clear');
  expect(ask({ driveV: 15.3, temperatureC: -20 }).status).not.toBe('fault');
});

test('above the usual windows and within the widest is worth watching', () => {
  expect(ask({ driveV: 15.15, temperatureC: 20 })).toMatchObject({
    status: 'watch',
    variant: 'above-usual',
    limit: { value: 15 },
  });
  expect(ask({ driveV: 15.15, temperatureC: -20 }).status).toBe('clear');
});

test('gel at 15.2 V gives off gas that it cannot get back: what other batteries may bear is a fault', () => {
  const gel = { battery: { chemistry: 'gel' } } as const;
  expect(ask({ driveV: 15.2, temperatureC: 25 }, gel)).toMatchObject({ status: 'fault', limit: { value: 14.9 } });
  expect(ask({ driveV: 14.7, temperatureC: 25 }, gel).status).toBe('watch');
});

test('gel is watched from 14.4 V on', () => {
  expect(ask({ driveV: 14.7, temperatureC: 20 }, { battery: { chemistry: 'gel' } })).toMatchObject({
    status: 'watch',
    variant: 'above-usual',
  });
});

test('no window is published for nickel manganese cobalt: no verdict, unless the manifest sets the limit', () => {
  const battery = { chemistry: 'nmc' as const };
  expect(ask({ driveV: 15.5 }, { battery })).toMatchObject({ status: 'undecided', reason: 'no-window' });
});

test('a limit of the manifest holds as it stands', () => {
  const limits = { chargingVoltageMax: { value: 14.6, source: 'Service information' } };
  expect(ask({ driveV: 14.7, temperatureC: 20 }, { limits }).status).toBe('fault');
  expect(ask({ driveV: 14.4, temperatureC: 20 }, { limits }).status).toBe('clear');
});

test('recovered braking energy for moments is clear; far beyond it is worth watching', () => {
  expect(ask({ driveV: 14.2, driveSwingV: 0.6, temperatureC: 20 }).status).toBe('clear');
  expect(ask({ driveV: 14.2, driveSwingV: 1.7, temperatureC: 20 }).status).toBe('watch');
});

test('a limit within value ± U is a warning, not an all-clear', () => {
  expect(ask({ driveV: 15.3, temperatureC: 20 })).toMatchObject({ status: 'watch', variant: 'in-doubt' });
});

test('without a temperature the widest window holds', () => {
  expect(ask({ driveV: 14.9, temperature: false }).status).toBe('clear');
  expect(ask({ driveV: 15.7, temperature: false }).status).toBe('fault');
});

test('no drive, or only short ones', () => {
  expect(check.answer(nothing(), session())).toMatchObject({ status: 'undecided', reason: 'no-drive' });
  const analysis = week();
  const short = { ...analysis, drives: analysis.drives.map((drive) => ({ ...drive, voltsHigh: null })) };
  expect(check.answer(short, session())).toMatchObject({ status: 'undecided', reason: 'drives-too-short' });
});
