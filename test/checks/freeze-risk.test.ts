import { expect, test } from 'vitest';
import type { Analysis } from '../../src/analysis/model.ts';
import { check } from '../../src/checks/freeze-risk.ts';
import { session, standing, week } from './analysis-fixture.ts';
import { withTiles } from './tile-story.ts';
import { answerOf } from './words.ts';

/** A long rest at a voltage and a temperature of the battery. */
const rested = (restV: number, temperatureC: number, changes = {}) => {
  const told = withTiles(standing(36, { restV, temperatureC }), () => ({ v: restV, temp: temperatureC }));
  return answerOf(check, told, session(changes));
};

test('nearly empty at −25 °C is a fault; full it is not', () => {
  expect(rested(11.6, -25).status).toBe('fault');
  expect(rested(12.65, -25)).toMatchObject({ status: 'clear', measured: { value: -25 } });
});

test('half charged at −26 °C, where the tables put its freezing point: doubt is a warning', () => {
  expect(rested(12.18, -26)).toMatchObject({ status: 'watch', variant: 'in-doubt' });
});

test('never as cold as an empty battery freezes at: clear without a charge', () => {
  const told = withTiles(standing(3), () => ({ v: 12, temp: 0.5 }));
  expect(answerOf(check, told, session())).toMatchObject({ status: 'clear', variant: 'never-cold' });
});

test('a battery drained beyond the tables is nearer to water: −5 °C is then too cold to be sure of', () => {
  const at = (v: number) =>
    answerOf(
      check,
      withTiles(standing(3), () => ({ v, temp: -5 })),
      session(),
    );
  expect(at(9.8)).toMatchObject({ status: 'undecided', reason: 'charge-unknown' });
});

test('not frozen at 2 °C, but so empty that a winter’s night would do it', () => {
  expect(rested(11.5, 2).status).toBe('watch');
  expect(rested(11.5, 25)).toMatchObject({ status: 'clear', variant: 'never-cold' });
});

test('cold, and no rest that shows the charge', () => {
  const told = withTiles(standing(3), () => ({ v: 12, temp: -25 }));
  expect(answerOf(check, told, session())).toMatchObject({ status: 'undecided', reason: 'charge-unknown' });
});

test('a cold moment of less than a minute does not count', () => {
  const stand = standing(36, { restV: 11.6, temperatureC: 20 });
  const told = withTiles(stand, (t) => ({ v: 11.6, temp: t - stand.start < 40 ? -40 : 20 }));
  expect(answerOf(check, told, session()).status).toBe('clear');
});

test('each stand is judged by its own temperature and charge', () => {
  const low = (k: number) => (k < 4 ? 11.55 : 12.65);
  const cold = (analysis: Analysis, coldStand: number) => {
    const { start, end } = analysis.stands[coldStand];
    return withTiles(analysis, (t) => ({ v: 12, temp: t >= start && t <= end ? -28 : 5 }), 60);
  };
  // Only stands of eight hours and more show a charge: every other one.
  const analysis = week({ restV: low, temperatureC: 5 });
  expect(answerOf(check, cold(analysis, 2), session()).status).toBe('fault');
  expect(answerOf(check, cold(analysis, 10), session()).status).toBe('clear');
});

test('no table for lfp', () => {
  expect(rested(13.2, -25, { battery: { chemistry: 'lfp' } })).toMatchObject({
    status: 'undecided',
    reason: 'not-lead',
  });
});

test('a stand without a rest of its own has not the charge that drives put in after it', () => {
  const days = week({ days: 1, restV: 12.6, temperatureC: -22, driveA: 80 });
  const withoutRest = (analysis: Analysis): Analysis => ({
    ...analysis,
    stands: analysis.stands.map((stand, k) => (k === 0 ? { ...stand, rest: null } : stand)),
  });
  const ask = (analysis: Analysis, changes = {}) =>
    answerOf(
      check,
      withTiles(analysis, () => ({ v: 12.6, temp: -22 }), 60),
      session(changes),
    );
  expect(ask(days).status).toBe('clear');
  // Half an hour at 80 A is more than half of 70 Ah.
  expect(ask(withoutRest(days))).toMatchObject({ status: 'watch', variant: 'in-doubt' });
  // Where nothing can be counted it may have been empty.
  expect(ask(withoutRest(days), { battery: { capacityAh: undefined } }).status).toBe('watch');
});
