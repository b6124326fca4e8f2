import { expect, test } from 'vitest';
import type { PeriodKind } from '../../src/analysis/model.ts';
import { check } from '../../src/checks/battery-heat.ts';
import { session, standing, week } from './analysis-fixture.ts';
import { withTiles } from './tile-story.ts';
import { answerOf } from './words.ts';

const stated = {
  columns: { temperature: { name: 't', unit: '°C', accuracy: { relative: 0, absolute: 0.5 } } },
} as const;
const ask = (temp: (t: number, kind: PeriodKind) => number, changes = {}) =>
  answerOf(
    check,
    withTiles(week(), (t, kind) => ({ temp: temp(t, kind), i: kind === 'driving' ? 4 : -0.02 }), 30),
    session(changes),
  );
const driven =
  (hot: number, parked = 20) =>
  (_: number, kind: PeriodKind) =>
    kind === 'driving' ? hot : parked;

test('60 °C while driving is a fault, 40 °C is not', () => {
  expect(ask(driven(60))).toMatchObject({ status: 'fault', measured: { value: 60 }, limit: { value: 52 } });
  expect(ask(driven(40)).status).toBe('clear');
});

test('as hot while parked is only worth watching', () => {
  expect(ask(driven(40, 60))).toMatchObject({ status: 'watch', measured: { value: 60 }, facts: { chargingC: 40 } });
});

test('53 °C is a verdict only where the sensor is known to be good', () => {
  expect(ask(driven(53))).toMatchObject({ status: 'undecided', reason: 'limit-within-uncertainty' });
  expect(ask(driven(53), stated).status).toBe('fault');
});

test('a converter that charges a parked vehicle counts too', () => {
  const [period] = standing(5).periods;
  const told = (i: number) =>
    withTiles({ ...standing(5), periods: [{ ...period, kind: 'awake' }] }, () => ({ temp: 60, i }));
  const electric = session({ vehicle: { powertrain: 'electric' } });
  expect(answerOf(check, told(10), electric).status).toBe('fault');
  expect(answerOf(check, told(-1), electric)).toMatchObject({ status: 'undecided', reason: 'not-charged' });
});

test('never charged and never hot is clear', () => {
  const told = withTiles(standing(5), () => ({ temp: 30, i: -0.02 }));
  expect(answerOf(check, told, session())).toMatchObject({ status: 'clear', facts: { charged: false } });
});
