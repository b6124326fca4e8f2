import { expect, it } from 'vitest';
import { settlings } from '../../../src/measures/circuits/settlings.ts';
import { shutdown } from '../../../src/measures/portrait/shutdown.ts';
import { session, week } from '../../checks/analysis-fixture.ts';
import { withTiles } from '../../checks/tile-story.ts';

/** Every stand goes down by `steps` of amperes and seconds; one stand may have others. */
function shut(steps: readonly (readonly [number, number])[], odd?: readonly (readonly [number, number])[]) {
  const settleS = steps.reduce((sum, [, seconds]) => sum + seconds, 0);
  const analysis = week({ settleS });
  const at = (t: number) => {
    const k = analysis.stands.findLastIndex(({ start }) => start <= t);
    let since = t - (analysis.stands[k]?.start ?? 0);
    for (const [amps, seconds] of k === 3 && odd ? odd : steps) {
      if (since < seconds) return amps;
      since -= seconds;
    }
    return 0.02;
  };
  const tiled = withTiles(analysis, (t, kind) => (kind === 'driving' ? { v: 14.2, i: 4 } : { v: 12.5, i: -at(t) }), 2);
  return { found: shutdown(tiled, session()), settled: settlings(tiled, session()).all.length };
}
const STAIRS = [
  [6, 60],
  [2, 240],
  [0.5, 600],
] as const;

it('finds the steps that all settlings have, with their lengths', () => {
  const { found, settled } = shut(STAIRS);
  expect(found.settlings).toBe(settled);
  expect(found.steps.map(({ levelA, seconds }) => [levelA.p50, Math.round(seconds.p50 / 10) * 10])).toEqual([
    [6, 60],
    [2, 240],
    [0.5, 600],
  ]);
  expect(found.seconds?.p50).toBeCloseTo(900, -1);
});

it('leaves out what one settling has alone', () => {
  const { found } = shut(STAIRS, [
    [6, 60],
    [3.5, 120],
    [2, 120],
    [0.5, 600],
  ]);
  expect(found.steps.map(({ levelA }) => levelA.p50)).toEqual([6, 2, 0.5]);
});

it('without current there is none', () => {
  expect(shutdown(week({ current: false }), session())).toEqual({ steps: [], settlings: 0, seconds: null });
});
