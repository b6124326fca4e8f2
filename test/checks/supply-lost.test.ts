import { expect, test } from 'vitest';
import type { Analysis, PeriodKind } from '../../src/analysis/model.ts';
import { check } from '../../src/checks/supply-lost.ts';
import { analysed, log, stretch } from '../analysis/blocks.ts';
import { asleep } from '../analysis/vehicle.ts';
import { session, standing, week } from './analysis-fixture.ts';
import { withTiles } from './tile-story.ts';
import { answerOf } from './words.ts';

/** Twenty hours of standing, broken by stretches of another kind: [from, to] in hours. */
const broken = (kind: PeriodKind, ...stretches: readonly (readonly [number, number])[]): Analysis => {
  const stand = standing(20);
  const [period] = stand.periods;
  const at = (hours: number) => stand.start + hours * 3600;
  const edges = [0, ...stretches.flat(), 20];
  const periods = edges.slice(1).map((to, k) => ({
    ...period,
    kind: k % 2 ? kind : period.kind,
    start: at(edges[k]),
    end: at(to),
  }));
  return { ...stand, periods: periods.filter((one) => one.end > one.start) };
};

test('one disconnection is worth watching, three are a contact that comes and goes', () => {
  expect(answerOf(check, broken('disconnected', [5, 6]), session())).toMatchObject({
    status: 'watch',
    facts: { losses: 1, offS: 3600 },
  });
  const thrice = broken('disconnected', [5, 5.1], [7, 7.2], [9, 9.1]);
  expect(answerOf(check, thrice, session())).toMatchObject({ status: 'fault', facts: { losses: 3 } });
});

test('no voltage at the log’s ends is the fitting', () => {
  const ends = broken('disconnected', [0, 0.5], [19.5, 20]);
  expect(answerOf(check, ends, session())).toMatchObject({ status: 'clear', facts: { losses: 0, edgeS: 3600 } });
});

test('a hole leaves the question open, a short one does not', () => {
  const holed = (to: number) => withTiles(broken('no-data', [5, to]), () => ({ v: 12.5 }));
  expect(answerOf(check, holed(6), session())).toMatchObject({ status: 'undecided', reason: 'holes-unexplained' });
  expect(answerOf(check, holed(5.1), session()).status).toBe('clear');
});

test('where only the current is missing nothing was lost', () => {
  const block = log([asleep(1800, 1), stretch(1800, 1, { v: 12.4 }), asleep(1800, 1)]);
  expect(answerOf(check, analysed(block), session())).toMatchObject({ status: 'clear', facts: { holes: 0 } });
});

test('a hole that begins with a collapsing voltage is a logger that went down', () => {
  const hole = broken('no-data', [5, 6]);
  const start = hole.start + 5 * 3600;
  const told = withTiles(hole, (t) => ({ v: t > start - 8 && t < start ? 6.5 : 12.5 }), 2);
  expect(answerOf(check, told, session())).toMatchObject({ status: 'watch', facts: { resets: 1, losses: 1 } });
  const half = withTiles(hole, (t) => ({ v: t > start - 8 && t < start ? 6.5 : 6.3 }), 2);
  expect(answerOf(check, half, session({ vehicle: { systemV: 6 } })).reason).toBe('holes-unexplained');
});

test('a usual week lost nothing', () => {
  expect(answerOf(check, week(), session()).status).toBe('clear');
});
