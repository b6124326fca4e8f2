import { expect, test } from 'vitest';
import { check } from '../../src/checks/charging-high.ts';
import { nothing, session, week } from './analysis-fixture.ts';

const ask = (story: Parameters<typeof week>[0], changes = {}) => check.answer(week(story), session(changes));

test('14.2 V is clear', () => expect(ask({}).status).toBe('clear'));

test('15.4 V for most of a drive is a fault', () => {
  const answer = ask({ driveV: 15.4, temperatureC: 20 });
  expect(answer).toMatchObject({ status: 'fault', limit: { value: 14.6 } });
  expect(answer.measured?.value).toBe(15.4);
});

test('cold weather allows more', () => {
  expect(ask({ driveV: 14.85, temperatureC: 20 }).status).toBe('fault');
  expect(ask({ driveV: 14.85, temperatureC: -20 }).status).toBe('clear');
});

test('AGM is held higher on purpose', () => {
  expect(ask({ driveV: 14.74, temperatureC: 20 }, { battery: { chemistry: 'agm' } }).status).toBe('clear');
  expect(ask({ driveV: 14.74, temperatureC: 20 }).status).toBe('fault');
});

test('just above the window published figures differ: no verdict, unless the manifest sets the limit', () => {
  expect(ask({ driveV: 14.68, temperatureC: 20 })).toMatchObject({ status: 'undecided' });
  const limits = { chargingVoltageMax: { value: 14.6, source: 'Service information' } };
  expect(ask({ driveV: 14.68, temperatureC: 20 }, { limits }).status).toBe('fault');
});

test('recovered braking energy for moments is clear; far beyond it is worth watching', () => {
  expect(ask({ driveV: 14.2, driveSwingV: 0.6, temperatureC: 20 }).status).toBe('clear');
  expect(ask({ driveV: 14.2, driveSwingV: 1.5, temperatureC: 20 }).status).toBe('watch');
});

test('a limit within value ± U gives no verdict', () => {
  expect(ask({ driveV: 14.6, temperatureC: 20 })).toMatchObject({
    status: 'undecided',
    reason: 'limit-within-uncertainty',
  });
});

test('without a temperature the widest window holds', () => {
  expect(ask({ driveV: 14.9, temperature: false }).status).toBe('clear');
  expect(ask({ driveV: 15.6, temperature: false }).status).toBe('fault');
});

test('no drive, or only short ones', () => {
  expect(check.answer(nothing(), session())).toMatchObject({ status: 'undecided', reason: 'no-drive' });
  const analysis = week();
  const short = { ...analysis, drives: analysis.drives.map((drive) => ({ ...drive, voltsHigh: null })) };
  expect(check.answer(short, session())).toMatchObject({ status: 'undecided', reason: 'drives-too-short' });
});
