import { describe, expect, test } from 'vitest';
import type { Analysis, Period, PeriodKind, Stand } from '../../../src/analysis/model.ts';
import type { Tiles } from '../../../src/analysis/tiles/tiles.ts';
import { settlings } from '../../../src/measures/circuits/settlings.ts';
import { session, week } from '../../checks/analysis-fixture.ts';

const STAND_S = 12_000;
const STEP_S = 60;

/** One stand of 12,000 s a number, which tells when it slept; `disturbed`: stands with a charger after 200 s. */
function settlingsOf(toSleepS: readonly (number | null)[], disturbed: readonly number[] = []) {
  const perStand = STAND_S / STEP_S;
  const n = perStand * toSleepS.length;
  const column = (of: (k: number) => number) => Float64Array.from({ length: n }, (_, k) => of(k));
  const blank = column(() => Number.NaN);
  const columns = { v: blank, vMin: blank, vMax: blank, iMin: blank, iMax: blank, iRough: blank, vRough: blank };
  const tiles: Tiles = {
    n,
    t0: column((k) => k * STEP_S),
    t1: column((k) => (k + 1) * STEP_S),
    rows: column(() => 1),
    ...columns,
    i: column(() => -1),
    iCov: column(() => STEP_S),
    netAs: column(() => -STEP_S),
    jumpsAs2: column(() => 0),
    turnsAs2: column(() => 0),
    temp: blank,
    chMin: [],
    chMax: [],
  };
  const charged = (at: number) => (disturbed.includes(at) ? [200, 260] : []);
  const periods = toSleepS.flatMap((seconds, at) => {
    const edges = [0, ...charged(at), seconds ?? STAND_S, STAND_S].toSorted((a, b) => a - b);
    return edges.slice(1).flatMap((end, k): Period[] => {
      const start = edges[k] ?? 0;
      const settled: PeriodKind = start < (seconds ?? STAND_S) ? 'settling' : 'asleep';
      const kind = charged(at)[0] === start ? 'on-charger' : settled;
      const span = { start: at * STAND_S + start, end: at * STAND_S + end };
      return end > start
        ? [{ ...span, kind, chargeInAh: 0, chargeOutAh: (end - start) / 3600, evidence: [], certainty: 1 }]
        : [];
    });
  });
  const [usual] = week().stands;
  const stands = toSleepS.map((timeToSleepS, at): Stand => {
    const span = { start: at * STAND_S, end: (at + 1) * STAND_S };
    return { ...usual, ...span, timeToSleepS, keyOffInLog: at !== 1 };
  });
  const analysis: Analysis = { ...week(), tiles, periods, stands };
  return settlings(analysis, session());
}

const QUICK = 600;

describe('a settling is slow', () => {
  test('where it takes twice as long as the quicker ones', () => {
    const { all, slowAfterS } = settlingsOf([QUICK, null, 1260, QUICK, 1140, QUICK]);
    expect(slowAfterS).toBe(1200);
    expect(all.map(({ slow }) => slow)).toEqual([false, true, false, false, false]);
  });

  test('though most are', () => {
    expect(settlingsOf([QUICK, null, 3000, 3000, 3000]).all.filter(({ slow }) => slow)).toHaveLength(3);
  });

  test('not where both are over in minutes', () => {
    expect(settlingsOf([120, null, 360]).all.map(({ slow }) => slow)).toEqual([false, false]);
  });

  test('where all take longer than the limit', () => {
    expect(settlingsOf([4200, null, 4260]).all.map(({ slow }) => slow)).toEqual([true, true]);
  });

  test('where the vehicle never slept', () => {
    const [, never] = settlingsOf([QUICK, null, null]).all;
    expect(never).toMatchObject({ slow: true, seconds: null, chargeAh: STAND_S / 3600 });
  });
});

test('a key-off before the log, and one that a charger disturbs, are left out', () => {
  expect(settlingsOf([QUICK, QUICK, QUICK, QUICK], [3]).all).toHaveLength(2);
});
