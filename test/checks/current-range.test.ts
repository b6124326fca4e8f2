import { expect, test } from 'vitest';
import type { Analysis } from '../../src/analysis/model.ts';
import { check } from '../../src/checks/current-range.ts';
import { session, standing, week } from './analysis-fixture.ts';
import { wave, withCranks, withTiles } from './tile-story.ts';
import { answerOf } from './words.ts';

const ranged = (rangeA?: number) =>
  session({ columns: { current: { name: 'a', unit: 'A', positive: 'charging', rangeA } } });

/** A week whose cranks draw so much at first and so much afterwards, seen through a sensor that ends at `endA`. */
function cranking(inrushA: (k: number) => number, steadyA: number, endA: number, driveA = 4): Analysis {
  const usual = week();
  const seen = (a: number) => Math.max(-endA, Math.min(endA, a));
  const cranks = withCranks(usual, (k) => ({
    ampsPeak: Math.min(endA, inrushA(k)),
    // No two readings of a real starter are alike.
    wave: wave(usual.cranks[k].at, (s) => seen(-(s < 0.3 ? inrushA(k) : steadyA) * (1 - 0.1 * s))),
  }));
  return withTiles(
    cranks,
    (t, kind) => {
      if (kind === 'driving') return { i: seen(driveA) };
      if (kind !== 'cranking') return { i: -0.02 };
      const k = usual.cranks.findIndex((crank) => t < crank.at + 1);
      return { i: seen(-steadyA), iMin: seen(-inrushA(k)) };
    },
    30,
  );
}
const varied = (k: number) => 600 + 10 * k;

test('peaks within the range are clear', () => {
  expect(answerOf(check, cranking(varied, 200, 1000), ranged(1000))).toMatchObject({
    status: 'clear',
    measured: { value: 730 },
  });
});

test('a clipped inrush is worth watching, a clipped plateau is a fault', () => {
  expect(answerOf(check, cranking(varied, 200, 500), ranged(500))).toMatchObject({
    status: 'watch',
    facts: { clippedCranks: 14, clippedPlateaus: 0 },
  });
  expect(answerOf(check, cranking(varied, 200, 100), ranged(100))).toMatchObject({
    status: 'fault',
    facts: { clippedPlateaus: 14 },
  });
});

test('without a stated range, peaks that are all alike tell it; peaks that differ do not', () => {
  expect(answerOf(check, cranking(varied, 200, 500), ranged())).toMatchObject({ status: 'watch' });
  expect(answerOf(check, cranking(varied, 200, 1000), ranged()).status).toBe('clear');
});

test('steps so coarse that any peaks are alike prove nothing', () => {
  const coarse = { ...cranking(varied, 200, 500), resolution: { v: 0.01, i: 10, temp: 0.1 } };
  expect(answerOf(check, coarse, ranged()).status).toBe('clear');
});

test('clipping while driving makes the charge too small', () => {
  expect(
    answerOf(
      check,
      cranking(() => 45, 40, 50, 80),
      ranged(50),
    ),
  ).toMatchObject({
    status: 'fault',
    facts: { beyondCranks: true },
  });
});

test('neither a range nor a crank', () => {
  expect(
    answerOf(
      check,
      withTiles(standing(5), () => ({ i: -0.02 })),
      ranged(),
    ),
  ).toMatchObject({
    status: 'undecided',
    reason: 'range-unstated',
  });
});
