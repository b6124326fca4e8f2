import { expect, test } from 'vitest';
import type { Finding } from '../../src/checks/check.ts';
import { check } from '../../src/checks/log-coverage.ts';
import { nothing, START, session, week } from './analysis-fixture.ts';

const ask = (story: Parameters<typeof week>[0], changes = {}) => check.answer(week(story), session(changes));
const gap = (seconds: number) => ({
  missingS: seconds,
  faults: [{ kind: 'gap' as const, at: START, count: 1, seconds }],
});

test('a whole log is clear', () => expect(ask({})).toMatchObject({ status: 'clear', measured: { value: 0 } }));

test('a day missing of a week is a fault', () =>
  expect(ask(gap(86_400))).toMatchObject({ status: 'fault', facts: { gaps: 1 } }));

test('an hour missing of a week is worth watching, a changed card is not', () => {
  expect(ask(gap(3600)).status).toBe('watch');
  expect(ask(gap(120)).status).toBe('clear');
});

test.each(['clock-jump', 'out-of-order', 'out-of-range', 'frozen', 'overlap', 'cut-short'] as const)(
  '%s is worth watching',
  (kind) => {
    expect(ask({ faults: [{ kind, at: START, count: 1, seconds: 0 }] }).status).toBe('watch');
  },
);

test.each(['duplicate-rows', 'ambiguous-time', 'empty'] as const)('%s costs nothing', (kind) => {
  expect(ask({ faults: [{ kind, at: START, count: 3, seconds: 0 }] }).status).toBe('clear');
});

test('many unreadable rows are a fault, a few are worth watching', () => {
  expect(ask({ rowsRejected: 200_000 }).status).toBe('fault');
  expect(ask({ rowsRejected: 2000 }).status).toBe('watch');
  expect(ask({ rowsRejected: 3 }).status).toBe('clear');
});

test('a log that ends long before the logger was taken off is not whole', () => {
  const { end } = week();
  const removed = (laterS: number) => ({ session: { install: { removedAtMs: (end + laterS) * 1000 } } });
  expect(ask({}, removed(1200)).status).toBe('clear');
  expect(ask({}, removed(3 * 3600)).status).toBe('watch');
  expect(ask({}, removed(48 * 3600))).toMatchObject({ status: 'fault', facts: { outsideS: 48 * 3600 } });
});

test('what most of is missing from doubts everything, what ends early nothing that it holds', () => {
  const { start, end } = week();
  const doubts = (story: Parameters<typeof week>[0], changes = {}) =>
    check.doubts?.({ check: check.id, ...ask(story, changes) } as Finding);
  expect(doubts(gap(0.6 * (end - start)))).toBe('all');
  const early = ask({}, { session: { install: { removedAtMs: (end + 9 * 86_400) * 1000 } } });
  expect(early).toMatchObject({ variant: 'not-throughout', facts: { endsEarly: true, mostOutsideS: 9 * 86_400 } });
  const late = ask({}, { session: { install: { fittedAtMs: (start - 2 * 86_400) * 1000 } } });
  expect(late).toMatchObject({ variant: 'not-throughout', facts: { endsEarly: false, mostOutsideS: 2 * 86_400 } });
  expect(ask(gap(86_400)).variant).toBeUndefined();
  expect(doubts({}, { session: { install: { removedAtMs: (end + 9 * 86_400) * 1000 } } })).toBeNull();
});

test('a log of a single moment covers no time', () => {
  const analysis = { ...nothing(), start: START, end: START };
  expect(check.answer(analysis, session())).toMatchObject({ status: 'undecided', reason: 'no-time-covered' });
});

const scaled = (scale: number, systemV: 6 | 12 | 24) => ask({ scale }, { vehicle: { systemV } });

test.each([
  [2, 12, 24],
  [2, 6, 24],
  [1, 6, 12],
] as const)('a log of another system than declared is told: %s times 12 V as %s V', (scale, declared, suits) => {
  expect(scaled(scale, declared)).toMatchObject({
    status: 'fault',
    variant: 'other-system',
    facts: { suitsV: suits, declaredV: declared },
  });
});

test('a lower voltage may be that of a flat battery', () => {
  expect(scaled(1, 24)).toMatchObject({ status: 'watch', variant: 'other-system', facts: { suitsV: 12 } });
  expect(scaled(0.5, 12)).toMatchObject({ status: 'watch', variant: 'other-system', facts: { suitsV: 6 } });
  // Flat, but no other system's: 8 V for 12 V.
  expect(scaled(0.67, 12).variant).toBeUndefined();
});

test.each([
  [1, 12],
  [0.5, 6],
  [2, 24],
] as const)('a log of the declared system is not: %s times 12 V as %s V', (scale, declared) => {
  expect(scaled(scale, declared).status).toBe('clear');
});
