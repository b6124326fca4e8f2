import { expect, it } from 'vitest';
import { less, middleOf, profileOf, variation } from '../../../src/measures/wakes/wake-profile.ts';
import { week } from '../../checks/analysis-fixture.ts';
import { withTiles } from '../../checks/tile-story.ts';

/** A wake of two levels, a minute each, above 20 mA asleep. */
function wakeOf(stepS: number) {
  const analysis = week({ wakesPerStand: 1 });
  const [first] = analysis.wakes;
  const start = Math.round(first.start / 10) * 10;
  const at = (t: number) => (t < start || t > start + 120 ? 0.02 : t < start + 60 ? 3.02 : 1.02);
  const tiled = withTiles(analysis, (t) => ({ v: 12.5, i: -at(t) }), 10);
  return profileOf(tiled, { ...first, start, seconds: 120, chargeAh: (3 + 1) / 60 }, stepS);
}

it('is what is drawn above sleep, step by step', () => {
  const profile = wakeOf(20);
  expect(profile).toHaveLength(6);
  for (const [k, amps] of [3, 3, 3, 1, 1, 1].entries()) expect(profile?.[k]).toBeCloseTo(amps, 1);
});

it('is none where the wake has too many steps', () => {
  expect(wakeOf(0.01)).toBeNull();
});

it('goes up and down by as much as it does, but for noise', () => {
  expect(variation(Float64Array.from([0, 2, 2.05, 2, 0]), 0.1)).toBeCloseTo(4, 9);
  expect(variation(less(Float64Array.from([1, 3, 3, 1]), Float64Array.from([2, 2]), 1), 0.1)).toBeCloseTo(2, 9);
  expect([...middleOf([])]).toEqual([]);
});
