import { describe, expect, it } from 'vitest';
import type { Wake } from '../../../src/analysis/model.ts';
import { groupsOf, sorted, split, without } from '../../../src/measures/wakes/wake-groups.ts';

const wake = (meanA: number, seconds: number): Wake => ({
  start: 0,
  seconds,
  peakA: meanA,
  meanA,
  chargeAh: (meanA * seconds) / 3600,
  stand: 0,
  channels: [],
});
const groups = (wakes: readonly Wake[], stepS = 1) =>
  groupsOf(
    wakes.map((_, k) => k),
    wakes,
    stepS,
  );

describe('wakes that look alike', () => {
  it('are one group, in order, the largest first', () => {
    const wakes = [wake(4, 60), wake(0.5, 300), wake(4.2, 65), wake(3.8, 58), wake(0.52, 310)];
    expect(groups(wakes)).toEqual([
      [0, 2, 3],
      [1, 4],
    ]);
  });

  it('may differ by half in length and by a quarter in draw, and no more', () => {
    expect(groups([wake(4, 60), wake(4.8, 90)])).toHaveLength(1);
    expect(groups([wake(4, 60), wake(6, 60)])).toHaveLength(2);
    expect(groups([wake(4, 60), wake(4, 120)])).toHaveLength(2);
  });

  it('are told apart no finer than the rows allow', () => {
    expect(groups([wake(4, 60), wake(4, 120)], 60)).toHaveLength(1);
  });

  it('each stands in one group', () => {
    const wakes = Array.from({ length: 400 }, (_, k) => wake(0.2 * 1.01 ** k, 60));
    const all = groups(wakes).flat();
    expect(sorted(all)).toEqual(wakes.map((_, k) => k));
  });
});

it('lists of places are split by a key, sorted and taken apart', () => {
  expect(split([5, 2, 8, 3], (k) => k % 2)).toEqual([
    [5, 3],
    [2, 8],
  ]);
  expect(sorted([10, 9, 2])).toEqual([2, 9, 10]);
  expect(without([1, 2, 3], [2])).toEqual([1, 3]);
});
