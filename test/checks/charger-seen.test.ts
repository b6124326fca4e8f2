import { expect, test } from 'vitest';
import type { Analysis, PeriodKind } from '../../src/analysis/model.ts';
import { check } from '../../src/checks/charger-seen.ts';
import { session, standing, week } from './analysis-fixture.ts';
import { answerOf } from './words.ts';

/** Twenty hours of standing with a charger on from one hour to another. */
const charged = (from: number, to: number): Analysis => {
  const stand = standing(20);
  const [period] = stand.periods;
  const at = (hours: number) => stand.start + hours * 3600;
  return {
    ...stand,
    periods: [
      { ...period, end: at(from) },
      { ...period, kind: 'on-charger' as const, start: at(from), end: at(to), chargeInAh: 5, chargeOutAh: 0 },
      { ...period, start: at(to) },
    ].filter((one) => one.end > one.start),
  };
};
const saver = session({ session: { install: { memorySaver: { used: true } } } });

test('three hours in the middle are worth watching, ten make the log a poor witness', () => {
  expect(answerOf(check, charged(8, 11), session())).toMatchObject({
    status: 'watch',
    facts: { times: 1, seconds: 10_800, chargerAh: 5 },
  });
  expect(answerOf(check, charged(5, 15), session()).status).toBe('fault');
});

/** A panel feeds from `from` to `to` o'clock (UTC) on each of the days of `days`. */
const sunny = (from: number, to: number, days = 4): Analysis => {
  const stand = standing(24 * days);
  const [period] = stand.periods;
  const midnight = Math.floor(stand.start / 86_400) * 86_400;
  const feeds = Array.from({ length: days - 1 }, (_, day) => midnight + (day + 1) * 86_400).map((t) => ({
    ...period,
    kind: 'on-charger' as const,
    start: t + from * 3600,
    end: t + to * 3600,
    chargeInAh: 3,
    chargeOutAh: 0,
  }));
  return { ...stand, periods: [...stand.periods, ...feeds] };
};
const utc = session();

test('what feeds by day alone is no fault of a recording whose nights tell', () => {
  expect(answerOf(check, sunny(6, 18), utc)).toMatchObject({ status: 'watch', variant: 'by-day' });
  expect(answerOf(check, sunny(6, 18, 3), utc).status).toBe('fault');
  expect(answerOf(check, sunny(12, 24), utc).status).toBe('fault');
});

test('a memory saver while fitting is in order where the manifest tells of it, and only then', () => {
  expect(answerOf(check, charged(0, 1), saver)).toMatchObject({ status: 'clear', variant: 'told' });
  expect(answerOf(check, charged(0, 1), session()).status).toBe('watch');
  expect(answerOf(check, charged(8, 11), saver).status).toBe('watch');
  expect(answerOf(check, charged(19, 20), saver)).toMatchObject({ status: 'clear', variant: 'told' });
});

test('three minutes may be a coasting engine', () => {
  expect(answerOf(check, charged(8, 8.05), saver)).toMatchObject({ status: 'clear', facts: { times: 0 } });
});

test('a hybrid’s own converter cannot be told from a charger', () => {
  const hybrid = session({ vehicle: { powertrain: 'hybrid' } });
  const fed = (kind: PeriodKind) =>
    week().periods.map((period) => (period.kind === kind ? { ...period, chargeInAh: 1 } : period));
  const topped = { ...week(), periods: fed('settling') };
  expect(answerOf(check, topped, hybrid)).toMatchObject({ status: 'undecided', reason: 'own-converter' });
  // What goes in asleep, and wakes nothing, is a sensor whose zero is off.
  expect(answerOf(check, { ...week(), periods: fed('asleep') }, hybrid).status).toBe('clear');
  expect(answerOf(check, week(), hybrid).status).toBe('clear');
  expect(answerOf(check, topped, session()).status).toBe('clear');
});
