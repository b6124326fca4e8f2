import { expect, test } from 'vitest';
import { check } from '../../src/checks/deep-discharge.ts';
import { cutOff } from '../../src/measures/supply-stories.ts';
import { nothing, type SessionChanges, session, standing, week } from './analysis-fixture.ts';
import { withTiles } from './tile-story.ts';
import { answerOf } from './words.ts';

/** Ten hours parked at 12.6 V, but for `seconds` at the beginning. */
const parked = (volts: number, seconds: number, changes: SessionChanges = {}, scale = 1) => {
  const stand = standing(10);
  const told = withTiles(stand, (t) => ({ v: (t - stand.start < seconds ? volts : 12.6) * scale }));
  return answerOf(check, told, session(changes));
};

test('10.2 V for an hour is a fault, for two minutes worth watching, for thirty seconds nothing', () => {
  expect(parked(10.2, 3600)).toMatchObject({ status: 'fault', measured: { value: 10.2 }, facts: { lowS: 3600 } });
  expect(parked(10.2, 120).status).toBe('watch');
  expect(parked(10.2, 30)).toMatchObject({ status: 'clear', measured: { value: 12.6 } });
});

test('the limit follows the system and the chemistry', () => {
  expect(parked(10.2, 3600, { vehicle: { systemV: 24 } }, 2)).toMatchObject({ status: 'fault', limit: { value: 21 } });
  expect(parked(10.2, 3600, { vehicle: { systemV: 6 } }, 0.5)).toMatchObject({ limit: { value: 5.25 } });
  expect(parked(10.2, 3600, { battery: { chemistry: 'lfp' } })).toMatchObject({
    status: 'watch',
    variant: 'empty',
    limit: { value: 10 },
  });
});

test('an hour asleep below the voltage of an empty battery is worth watching', () => {
  expect(parked(11.5, 3600)).toMatchObject({ status: 'watch', variant: 'empty', facts: { emptyS: 3600 } });
  expect(parked(11.9, 3600).status).toBe('clear');
});

test('hours at rest below 12.0 V are worth watching', () => {
  expect(parked(11.9, 3 * 3600)).toMatchObject({ status: 'watch', variant: 'low', facts: { hardS: 3 * 3600 } });
  expect(parked(12.1, 3 * 3600).status).toBe('clear');
});

test('too near the limit is a warning', () => {
  expect(parked(10.5, 3600)).toMatchObject({ status: 'watch', variant: 'in-doubt' });
});

test('key-on, cranks and a disconnected battery do not count', () => {
  for (const kind of ['cranking', 'key-on', 'disconnected'] as const) {
    const stand = standing(10);
    const [period] = stand.periods;
    const cut = period.start + 3600;
    const periods = [
      { ...period, kind, end: cut },
      { ...period, start: cut },
    ];
    const told = withTiles({ ...stand, periods }, (t) => ({ v: t < cut ? 5 : 12.6 }));
    expect(answerOf(check, told, session()).status).toBe('clear');
  }
});

test('a dip of seconds before each of many starts adds up to nothing', () => {
  const tenDays = week({ days: 10 });
  const dips = tenDays.stands.map(({ end }) => end - 5);
  const told = withTiles(tenDays, (t) => ({ v: dips.some((at) => Math.abs(t - at) < 5) ? 10.55 : 12.6 }));
  expect(answerOf(check, told, session())).toMatchObject({ status: 'clear', measured: { value: 12.6 } });
});

test('nothing parked, nothing to say', () => {
  expect(answerOf(check, nothing(), session())).toMatchObject({ status: 'undecided', reason: 'not-parked' });
});

test('a lithium battery that switched itself off was drained, though its lowest voltage keeps the limit', () => {
  const lithium = session({ battery: { chemistry: 'lfp' } });
  const analysis = withTiles(standing(20), () => ({ v: 12.4 }));
  const asked = (lastV: number | null) => {
    const told = { ...analysis };
    const cut = { cutT: told.end - 3600, cutS: 3600, cuts: 1, cutOffS: 3600, backT: null, backByCharge: false };
    cutOff.given(told, lastV === null ? null : { ...cut, lastV, dark: false, heldV: null });
    return answerOf(check, told, lithium);
  };
  expect(asked(null).status).toBe('clear');
  expect(asked(12.4)).toMatchObject({ status: 'watch', variant: 'cut-off', facts: { cutV: 12.4 } });
});
