import { describe, expect, it } from 'vitest';
import { normalPairAt } from '../../../src/demo/random.ts';
import { stepsOf } from '../../../src/measures/portrait/steps.ts';

type Stair = readonly (readonly [amps: number, seconds: number])[];

function course(stair: Stair, stepS: number, noise: { relative: number; amps: number }) {
  const levels: number[] = [];
  const pair = new Float64Array(2);
  for (const [amps, seconds] of stair)
    for (let s = 0; s < seconds; s += stepS) {
      normalPairAt(77, levels.length, pair);
      const [a = 0, b = 0] = pair;
      levels.push(amps * (1 + noise.relative * a) + noise.amps * b);
    }
  return { levels, seconds: levels.map(() => stepS) };
}

const FIVE: Stair = [
  [8.5, 20],
  [4.2, 60],
  [1.9, 240],
  [0.9, 300],
  [0.35, 900],
];
const SMALL: Stair = [
  [3, 90],
  [0.6, 600],
  [0.09, 700],
];
const UP_AGAIN: Stair = [
  [2, 100],
  [5, 60],
  [0.3, 400],
];

describe('the steps of a staircase', () => {
  it.each<[string, Stair, number, { relative: number; amps: number }]>([
    ['five, read each second', FIVE, 1, { relative: 0.004, amps: 0.001 }],
    ['five, read ten times a second', FIVE, 0.1, { relative: 0.02, amps: 0.002 }],
    ['five, noisy', FIVE, 1, { relative: 0.05, amps: 0.003 }],
    ['down to milliamperes', SMALL, 1, { relative: 0.02, amps: 0.003 }],
    ['each ten seconds', SMALL, 10, { relative: 0.01, amps: 0.001 }],
    ['a load that comes after key-off', UP_AGAIN, 1, { relative: 0.01, amps: 0.001 }],
  ])('%s', (_, stair, stepS, noise) => {
    const found = stepsOf(course(stair, stepS, noise));
    expect(found).toHaveLength(stair.length);
    stair.forEach(([amps, seconds], k) => {
      expect(Math.abs((found[k]?.level ?? 0) / amps - 1)).toBeLessThan(0.03);
      expect(Math.abs((found[k]?.seconds ?? 0) - seconds)).toBeLessThan(0.03 * seconds + stepS);
    });
  });

  it('are none where nothing changes but noise', () => {
    for (const relative of [0.002, 0.03, 0.1])
      expect(stepsOf(course([[1.2, 1200]], 1, { relative, amps: 0.002 }))).toHaveLength(1);
  });

  it('leave out what flickers', () => {
    const { levels, seconds } = course(SMALL, 1, { relative: 0.01, amps: 0.001 });
    levels[300] = 2.4;
    levels[301] = 2.4;
    expect(stepsOf({ levels, seconds })).toHaveLength(3);
  });

  it('of nothing are none', () => {
    expect(stepsOf({ levels: [], seconds: [] })).toEqual([]);
  });
});
