import { expect, it } from 'vitest';
import type { Period, PeriodKind } from '../../../src/analysis/model.ts';
import { awakeRuns, periodsOf, steadyDraw } from '../../../src/measures/account/awake-runs.ts';
import { week } from '../../checks/analysis-fixture.ts';
import { withTiles } from '../../checks/tile-story.ts';

/** One stand of these periods, each of `seconds` with 1 A. */
function stood(...told: readonly (readonly [PeriodKind, number])[]) {
  let at = 1000;
  const periods = told.map(([kind, seconds]): Period => {
    const start = at;
    at += seconds;
    return { kind, start, end: at, chargeInAh: 0, chargeOutAh: seconds / 3600, evidence: [], certainty: 1 };
  });
  const analysis = week();
  const stand = { ...analysis.stands[0], start: 1000, end: at };
  return { analysis: { ...analysis, periods, stands: [stand] }, stand };
}

it('a run goes from sleep to sleep, and a short hole parts it not', () => {
  const { analysis, stand } = stood(
    ['settling', 600],
    ['no-data', 60],
    ['awake', 300],
    ['asleep', 3600],
    ['awake', 100],
  );
  expect(awakeRuns(analysis, stand)).toMatchObject([
    { start: 1000, end: 1960, seconds: 900, isFirst: true, isLast: false, isToppedUp: false },
    { seconds: 100, isFirst: false, isLast: true },
  ]);
  expect(awakeRuns(analysis, stand)[0].outAh).toBeCloseTo(900 / 3600, 9);
});

it('a long hole, or a charger, parts it', () => {
  for (const between of ['no-data', 'on-charger'] as const) {
    const { analysis, stand } = stood(['settling', 600], [between, 900], ['awake', 300]);
    expect(awakeRuns(analysis, stand)).toHaveLength(2);
  }
});

it('periods of a stand are those within it', () => {
  const { analysis, stand } = stood(['settling', 600], ['asleep', 600]);
  expect(periodsOf(analysis, { ...stand, end: 1600 })).toHaveLength(1);
});

it('what flows most of the time is not moved by what flows for a moment', () => {
  const analysis = withTiles(week(), (t) => ({ v: 12.5, i: Math.floor(t / 10) % 20 === 0 ? -8 : -0.4 }), 10);
  const steady = steadyDraw(analysis, analysis.stands[2]);
  expect(steady?.middleA).toBeCloseTo(0.4, 9);
  expect(steady?.meanA).toBeCloseTo(0.4, 9);
  expect(
    steadyDraw(
      withTiles(week(), () => ({ v: 12.5 }), 600),
      analysis.stands[2],
    ),
  ).toBeNull();
});
