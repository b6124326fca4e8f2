/** Sums over the log, and what is known of them. */
import { describe, expect, it } from 'vitest';
import type { Drive } from '../../src/analysis/model.ts';
import { countedU, startsBetweenRows, totalsOf } from '../../src/analysis/totals.ts';
import { session, week } from '../checks/analysis-fixture.ts';
import { withTiles } from '../checks/tile-story.ts';

const LOG = withTiles(
  week({ chargerAh: 5 }),
  (_, kind) => ({ v: 12.5, i: kind === 'driving' ? 4 : kind === 'on-charger' ? 1 : -0.02 }),
  60,
);
const counted = (own = session(), noiseA: number | null = null) => ({
  tiles: LOG.tiles,
  sensors: { session: own, resolution: { v: 0, i: 0, temp: 0 } },
  noiseA,
});
const ALL = Array.from({ length: LOG.tiles.n }, (_, k) => k);

it('charge on a charger is no charge of the vehicle’s', () => {
  const totals = totalsOf(counted(), LOG.periods, LOG.stands, 0);
  const driven = LOG.periods.filter(({ kind }) => kind === 'driving');
  expect(totals.chargeInAh).toBeCloseTo(
    driven.reduce((sum, { chargeInAh }) => sum + chargeInAh, 0),
    9,
  );
  expect(totals.chargerInAh).toBe(5);
  expect(totals.drivingS).toBeCloseTo(
    driven.reduce((sum, { start, end }) => sum + end - start, 0),
    6,
  );
  expect(totals.parkedS).toBeCloseTo(
    LOG.stands.reduce((sum, { countedS }) => sum + countedS, 0),
    6,
  );
});

describe('the uncertainty of a charge', () => {
  const exact = { relative: 0, absolute: 0 };
  const of = (accuracy: { relative: number; absolute: number }, ah = 10, others: number[] = []) =>
    countedU(
      counted(session({ columns: { current: { name: 'i', unit: 'A', positive: 'charging', accuracy } } })),
      ALL,
      ah,
      others,
    ).u;

  // Rectangular bounds a: u = a / √3 (JCGM 100:2008, 4.3.7).
  it('has the gain of its charge, and the offset of its time', () => {
    expect(of({ relative: 0.01, absolute: 0 })).toBeCloseTo(0.1 / Math.sqrt(3), 9);
    const hours = ALL.reduce((sum, k) => sum + LOG.tiles.iCov[k], 0) / 3600;
    expect(of({ relative: 0, absolute: 0.002 })).toBeCloseTo((0.002 * hours) / Math.sqrt(3), 6);
    expect(of(exact)).toBe(0);
    expect(of(exact, 10, [0.3])).toBeCloseTo(0.3 / Math.sqrt(3), 9);
  });

  it('has noise that averages out over the rows', () => {
    const rows = ALL.reduce((sum, k) => sum + LOG.tiles.rows[k], 0);
    const hours = ALL.reduce((sum, k) => sum + LOG.tiles.iCov[k], 0) / 3600;
    const own = session({ columns: { current: { name: 'i', unit: 'A', positive: 'charging', accuracy: exact } } });
    expect(countedU(counted(own, 0.5), ALL, 0).u).toBeCloseTo((0.5 * hours) / Math.sqrt(rows), 6);
  });
});

it('starts that fell between rows take up to 6 A·s for each Ah', () => {
  const analysis = { ...week(), cranks: [] };
  const span = { start: analysis.start, end: analysis.end };
  expect(startsBetweenRows(analysis, session(), span)).toBeCloseTo((14 * 6 * 70) / 3600, 6);
  expect(startsBetweenRows(week(), session(), span)).toBe(0);
  expect(startsBetweenRows(analysis, session({ vehicle: { powertrain: 'electric' } }), span)).toBe(0);
  const first = [{ ...week().drives[0], start: analysis.start } as Drive];
  expect(startsBetweenRows({ ...analysis, drives: first }, session(), span)).toBe(0);
});
