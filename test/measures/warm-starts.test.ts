/** Cold oil is stiff: a sound engine turns the more easily the warmer it is. How far apart is too far is common practice, no source. */
import { expect, it } from 'vitest';
import type { Analysis, Crank } from '../../src/analysis/model.ts';
import { dragsHot } from '../../src/measures/warm-starts.ts';
import { session, week } from '../checks/analysis-fixture.ts';

const HOUR = 3600;
const OHM = 0.0042;

/** Each morning a cold start, and 20 min after that drive a warm one; their draws, A, and lengths, s. */
function starting(cold: readonly [number, number], warm: readonly [number, number]): Analysis {
  const usual = week();
  const [model] = usual.cranks;
  const first = usual.start + 12 * HOUR;
  const days = [0, 1, 2].map((day) => first + day * 24 * HOUR);
  const crank = (at: number, [amps, seconds]: readonly [number, number]): Crank => ({
    ...model,
    at,
    seconds,
    voltsBefore: 12.6,
    voltsCranking: { value: 12.6 - OHM * amps, u: 0.01 },
    resistanceOhm: { value: OHM, u: 0.0001 },
    started: true,
  });
  const drive = (start: number) => ({ ...usual.drives[0], start, end: start + 0.5 * HOUR });
  return {
    ...usual,
    cranks: days.flatMap((t) => [crank(t, cold), crank(t + 3000, warm)]),
    drives: days.flatMap((t) => [drive(t + 1), drive(t + 3001)]),
  };
}

it('tells a starter that draws more and takes longer when the engine is warm', () => {
  const found = dragsHot(starting([190, 1.3], [420, 2.4]), session());
  expect(found?.warm.count).toBe(3);
  expect(found?.warm.amps).toBeCloseTo(420, 6);
  expect(found?.cold.amps).toBeCloseTo(190, 6);
});

it('says nothing of a sound engine, nor of one that merely fires late or whose battery was low in the cold', () => {
  expect(dragsHot(starting([230, 1.4], [180, 0.8]), session())).toBeNull();
  expect(dragsHot(starting([190, 0.8], [185, 3]), session())).toBeNull();
  expect(dragsHot(starting([120, 3], [200, 0.8]), session())).toBeNull();
});
