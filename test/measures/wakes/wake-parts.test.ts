/** Two sources at once: each keeps its draw, its clock and its charge (the simulation is the truth; no source besides). */
import { describe, expect, test } from 'vitest';
import { wakePatterns } from '../../../src/measures/wakes/patterns.ts';
import { wakeParts } from '../../../src/measures/wakes/wake-parts.ts';
import { less, middleOf, variation } from '../../../src/measures/wakes/wake-profile.ts';
import { analysed, mornings } from '../../simulated/load-stories.ts';

const source = (everyS: number, amps: number, seconds: number) => ({
  timing: { everyS, jitterS: 2 },
  stages: [{ amps, seconds }],
});

describe('wakes of two sources that overlap', () => {
  const { analysis, session } = analysed(
    mornings(2, { wakes: [source(1500, 0.6, 60), source(5400, 4.2, 420)], logging: { stepS: 2 } }),
  );
  const parts = wakeParts(analysis, session);

  test('are parted, and each part keeps its draw and length', () => {
    expect(parts.length).toBeGreaterThan(analysis.wakes.length);
    const patterns = wakePatterns(analysis, session);
    const [heavy, light] = [patterns.find(({ meanA }) => meanA > 3), patterns.find(({ meanA }) => meanA < 1)];
    expect(Math.abs((heavy?.periodS ?? 0) / 5400 - 1)).toBeLessThan(0.01);
    expect(Math.abs((light?.periodS ?? 0) / 1500 - 1)).toBeLessThan(0.01);
    expect(Math.abs((heavy?.meanA ?? 0) / 4.2 - 1)).toBeLessThan(0.05);
    expect(Math.abs((light?.meanA ?? 0) / 0.6 - 1)).toBeLessThan(0.1);
  });

  test('lose no charge', () => {
    const sumOf = (list: readonly { readonly chargeAh: number }[]) => list.reduce((sum, one) => sum + one.chargeAh, 0);
    expect(sumOf(parts)).toBeCloseTo(sumOf(analysis.wakes), 9);
    for (const [k, wake] of analysis.wakes.entries())
      expect(sumOf(parts.filter((part) => part.wake === k))).toBeCloseTo(wake.chargeAh, 9);
  });
});

test('wakes of one source are left whole, also where their draw has steps', () => {
  const stages = [
    { amps: 2.4, seconds: 20 },
    { amps: 0.7, seconds: 100 },
  ];
  const { analysis, session } = analysed(
    mornings(2, { wakes: [{ timing: { everyS: 2400, jitterS: 60 }, stages }], logging: { stepS: 2 } }),
  );
  expect(wakeParts(analysis, session)).toHaveLength(analysis.wakes.length);
});

test('a profile goes up and down by twice its height, and by nothing without its own shape', () => {
  const shape = Float64Array.from([2, 2, 2]);
  const profile = Float64Array.from([5, 5, 7, 7, 7, 5]);
  expect(variation(profile, 0.1)).toBe(14);
  expect(variation(less(profile, shape, 2), 0.1)).toBe(10);
  expect([...middleOf([shape, Float64Array.from([1, 2, 3]), Float64Array.from([3, 2, 1])])]).toEqual([2, 2, 2]);
});
