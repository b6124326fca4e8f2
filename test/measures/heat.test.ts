import { expect, it } from 'vitest';
import { heat, overchargedS } from '../../src/measures/heat.ts';
import { session, week } from '../checks/analysis-fixture.ts';

it('tells heat while charging from heat of a parked vehicle', () => {
  const analysis = week({ temperatureC: 20 });
  const { tiles } = analysis;
  const asleep = analysis.stands[3];
  const hot = {
    ...tiles,
    temp: tiles.temp.map((c, k) => (tiles.t0[k] >= asleep.start && tiles.t0[k] < asleep.end ? 60 : c)),
  };
  const { charging, anytime } = heat({ ...analysis, tiles: hot }, session());
  expect(anytime?.value).toBe(60);
  expect(charging?.value).toBeLessThan(60);
});

it('counts the time that it was charged too high while hot', () => {
  const analysis = week({ temperatureC: 55 });
  const drivenS = analysis.drives.reduce((sum, { start, end }) => sum + end - start, 0);
  expect(overchargedS(analysis, 50, 14)).toBeCloseTo(drivenS, 6);
  expect(overchargedS(analysis, 60, 14)).toBe(0);
  expect(overchargedS(analysis, 50, 15)).toBe(0);
});
