import { expect, it } from 'vitest';
import { findDrives } from '../../src/analysis/drives.ts';
import type { PeriodKind } from '../../src/analysis/model.ts';
import { hole, log, type Stretch, sessionWith, stretch, tilesOf } from './blocks.ts';

const drive = (seconds: number, v: number, i = 5) => stretch(seconds, 1, { v, i, temp: 20 });
const parked = (seconds: number) => stretch(seconds, 1, { v: 12.5, i: -0.02, temp: 20 });

/** A tile is driving where current flows in. */
function drivesOf(...stretches: readonly Stretch[]) {
  const tiles = tilesOf(log(stretches));
  const kinds = Array.from({ length: tiles.n }, (_, k): PeriodKind => (tiles.i[k] > 1 ? 'driving' : 'asleep'));
  return findDrives(tiles, kinds, { session: sessionWith(), resolution: { v: 0.001, i: 0.001 } });
}

it('gives what came back, and the temperature', () => {
  const [one, ...more] = drivesOf(parked(600), drive(1800, 14.2), parked(600));
  expect(more).toEqual([]);
  expect(one.end - one.start).toBeCloseTo(1800, -1);
  expect(one.chargeInAh).toBeCloseTo(2.5, 1);
  expect(one.meanA).toBeCloseTo(5, 1);
  expect(one.temperatureC).toBe(20);
});

it('leaves out the first two minutes, in which the voltage climbs', () => {
  const [one] = drivesOf(drive(110, 13.2), drive(1200, 14.4));
  expect(one.voltsLow?.value).toBeCloseTo(14.4, 2);
  const [brief] = drivesOf(drive(100, 13.2));
  expect(brief.voltsLow).toBeNull();
  expect(brief.voltsMedian).toBeCloseTo(13.2, 2);
});

it('a short hole does not end a drive, a long one does', () => {
  expect(drivesOf(drive(600, 14.2), hole(30), drive(600, 14.2))).toHaveLength(1);
  expect(drivesOf(drive(600, 14.2), hole(300), drive(600, 14.2))).toHaveLength(2);
});
