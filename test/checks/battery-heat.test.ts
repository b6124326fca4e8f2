import { expect, test } from 'vitest';
import type { PeriodKind } from '../../src/analysis/model.ts';
import { check } from '../../src/checks/battery-heat.ts';
import { session, standing, week } from './analysis-fixture.ts';
import { withTiles } from './tile-story.ts';
import { answerOf } from './words.ts';

const stated = {
  columns: { temperature: { name: 't', unit: '°C', accuracy: { relative: 0, absolute: 0.5 } } },
} as const;
const ask = (temp: (t: number, kind: PeriodKind) => number, changes = {}, driveV = 14.2) =>
  answerOf(
    check,
    withTiles(
      week(),
      (t, kind) => ({ temp: temp(t, kind), v: kind === 'driving' ? driveV : 12.6, i: kind === 'driving' ? 4 : -0.02 }),
      30,
    ),
    session(changes),
  );
const driven =
  (hot: number, parked = 20) =>
  (_: number, kind: PeriodKind) =>
    kind === 'driving' ? hot : parked;

test('60 °C while driving is worth watching, with too high a voltage a fault; 40 °C is neither', () => {
  expect(ask(driven(60))).toMatchObject({
    status: 'watch',
    variant: 'charging',
    measured: { value: 60 },
    limit: { value: 52 },
  });
  expect(ask(driven(60), {}, 15.4)).toMatchObject({ status: 'fault', measured: { value: 60 } });
  expect(ask(driven(40), {}, 15.4).status).toBe('clear');
});

test('as hot while parked is only worth watching', () => {
  expect(ask(driven(40, 60))).toMatchObject({ status: 'watch', measured: { value: 60 }, facts: { chargingC: 40 } });
});

test('near the limit, doubt is a warning', () => {
  expect(ask(driven(53))).toMatchObject({ status: 'watch', variant: 'in-doubt' });
  expect(ask(driven(53), stated)).toMatchObject({ status: 'watch', variant: 'charging' });
});

test('a converter that charges a parked vehicle counts too', () => {
  const [period] = standing(5).periods;
  const told = (i: number) =>
    withTiles({ ...standing(5), periods: [{ ...period, kind: 'awake' }] }, () => ({ temp: 60, i }));
  const electric = session({ vehicle: { powertrain: 'electric' } });
  expect(answerOf(check, told(10), electric)).toMatchObject({ status: 'watch', variant: 'charging' });
  expect(answerOf(check, told(-1), electric)).toMatchObject({ status: 'undecided', reason: 'not-charged' });
});

test('never charged and never hot is clear', () => {
  const told = withTiles(standing(5), () => ({ temp: 30, i: -0.02 }));
  expect(answerOf(check, told, session())).toMatchObject({ status: 'clear', facts: { charged: false } });
});
