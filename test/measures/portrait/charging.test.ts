import { expect, it } from 'vitest';
import { charging } from '../../../src/measures/portrait/charging.ts';
import { session, week } from '../../checks/analysis-fixture.ts';
import { withTiles } from '../../checks/tile-story.ts';

/** Drives of half an hour: 20 A in the first five minutes, 2 A after that. */
function charged(told: Parameters<typeof week>[0] = {}) {
  const analysis = week(told);
  const since = (t: number) => t - (analysis.drives.findLast(({ start }) => start <= t)?.start ?? 0);
  const at = (t: number) => ({ v: since(t) < 300 ? 14.6 : 13.8, i: since(t) < 300 ? 20 : 2 });
  return charging(
    withTiles(analysis, (t, kind) => (kind === 'driving' ? at(t) : { v: 12.6, i: -0.02 }), 10),
    session(),
  );
}

it('tells voltage and current by the time since the drive began', () => {
  const { parts } = charged();
  expect(parts.map(({ fromS, toS }) => [fromS, toS])).toEqual([
    [0, 60],
    [60, 120],
    [120, 300],
    [300, 600],
    [600, 1200],
    [1200, 2400],
  ]);
  expect(parts.every(({ drives }) => drives === 14)).toBe(true);
  expect(parts[1].volts.p50).toBeCloseTo(14.6, 1);
  expect(parts[4].volts.p50).toBeCloseTo(13.8, 1);
  expect(parts[1].amps?.p50).toBeCloseTo(20, 0);
  expect(parts[4].amps?.p50).toBeCloseTo(2, 1);
});

it('tells what a drive puts back, for lengths that were driven', () => {
  const { putBack } = charged();
  expect(putBack.map(({ minutes }) => minutes)).toEqual([5, 10, 15, 20]);
  const [five, ten] = putBack;
  expect(five.chargeAh.p50).toBeCloseTo((20 * 300) / 3600, 1);
  expect(ten.chargeAh.p50 - five.chargeAh.p50).toBeCloseTo((2 * 300) / 3600, 1);
});

it('puts back nothing that a log without current could tell', () => {
  expect(charged({ current: false }).putBack).toEqual([]);
});
