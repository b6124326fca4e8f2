import { expect, it } from 'vitest';
import type { Analysis } from '../../src/analysis/model.ts';
import {
  coldestParked,
  lowestParked,
  lowestVoltage,
  parkedBelowS,
  standBelowS,
} from '../../src/measures/parked-voltage.ts';
import { session, week } from '../checks/analysis-fixture.ts';

/** The usual week with another voltage in the tiles that begin in stand `at`. */
function lowIn(at: number, volts: number): Analysis {
  const analysis = week();
  const { tiles, stands } = analysis;
  const isIn = (k: number) => tiles.t0[k] >= stands[at].start && tiles.t1[k] <= stands[at].end;
  return { ...analysis, tiles: { ...tiles, v: tiles.v.map((v, k) => (isIn(k) ? volts : v)) } };
}

it('finds how low a parked battery stayed, in one stand', () => {
  const analysis = lowIn(4, 11.2);
  const { start, end } = analysis.stands[4];
  expect(lowestParked(analysis, session())?.value).toBe(11.2);
  expect(standBelowS(analysis, session(), 12)).toBeCloseTo(end - start, 6);
  expect(parkedBelowS(analysis, session(), { level: 12 })).toBeCloseTo(end - start, 6);
  expect(parkedBelowS(analysis, session(), { level: 11 })).toBe(0);
});

it('a crank and a drive are not parked', () => {
  expect(lowestParked(week(), session())?.value).toBe(12.5);
});

it('knows the coldest, or that none was read', () => {
  expect(coldestParked(week({ temperatureC: -8 }), session())?.value).toBe(-8);
  expect(coldestParked(week({ temperature: false }), session())).toBeNull();
});

it('takes the limit of the chemistry, in proportion to the system', () => {
  expect(lowestVoltage(session()).value).toBe(10.5);
  expect(lowestVoltage(session({ vehicle: { systemV: 24 } })).value).toBe(21);
  expect(lowestVoltage(session({ battery: { chemistry: 'lfp' } })).value).toBe(10);
});
