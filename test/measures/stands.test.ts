import { expect, it } from 'vitest';
import { betweenEdges, betweenFading, ENOUGH_ASLEEP_S, sleepers, sleepTimeU } from '../../src/measures/stands.ts';
import { week } from '../checks/analysis-fixture.ts';

it('counts as sleepers those stands alone that slept for long enough', () => {
  const analysis = week();
  const short = {
    ...analysis,
    stands: analysis.stands.map((stand, k) => ({ ...stand, asleepS: k === 1 ? ENOUGH_ASLEEP_S - 1 : stand.asleepS })),
  };
  expect(sleepers(short)).toHaveLength(sleepers(analysis).length - 1);
  expect(sleepers(week({ settleS: null })).length).toBeLessThan(2);
});

/** Half-widths a and b of rectangular distributions: u² = (a² + b²) / 3 (JCGM 100:2008, 4.3.7). */
it('a time between two rows is known to the rows, and at a fading current no better than half a minute at each end', () => {
  const every = (stepS: number) => ({ ...week(), stepsS: { driving: stepS, parked: stepS, awake: stepS } });
  expect(betweenEdges(every(60)).u).toBeCloseTo(Math.sqrt((30 ** 2 + 30 ** 2 + 0.5 ** 2) / 3), 6);
  expect(betweenFading(every(1)).u).toBeCloseTo(Math.sqrt((2 * 30 ** 2) / 3), 6);
  expect(betweenFading(every(120)).u).toBeCloseTo(Math.sqrt((2 * 120 ** 2) / 3), 6);
  expect(sleepTimeU(every(120))).toBeGreaterThan(sleepTimeU(every(1)));
});
