import { expect, it } from 'vitest';
import { unlikeStands } from '../../../src/measures/portrait/unlike.ts';
import { session, week } from '../../checks/analysis-fixture.ts';

const found = (told: Parameters<typeof week>[0]) => unlikeStands(week(told), session());
/** Some scatter, as any vehicle has. */
const usualA = (k: number) => 0.018 + 0.0004 * Math.sin(k * 2.3);

it('tells the stand that lies far off, beside what is usual', () => {
  const draws = found({ sleepA: (k) => (k === 4 ? 0.2 : usualA(k)) });
  expect(draws).toMatchObject([{ figure: 'sleep-draw', stand: 4, value: 0.2 }]);
  expect(draws[0].usual.p50).toBeCloseTo(0.018, 3);
  expect(draws[0].others).toBe(week().stands.length - 1);
  expect(found({ settleS: (k) => (k === 4 ? 3000 : 900) })).toMatchObject([{ figure: 'sleep-time', stand: 4 }]);
});

it('tells none that any vehicle has: a little more, half a minute, or with too few others', () => {
  expect(found({ sleepA: (k) => (k === 4 ? 0.022 : usualA(k)) })).toEqual([]);
  expect(found({ settleS: (k) => (k === 4 ? 930 : 900) })).toEqual([]);
  expect(found({ days: 1, sleepA: (k) => (k === 1 ? 0.2 : usualA(k)) })).toEqual([]);
});

it('is no more sure than the draw itself', () => {
  expect(found({ sleepA: (k) => (k === 4 ? 0.05 : usualA(k)), sleepUA: 0.01 })).toEqual([]);
});
