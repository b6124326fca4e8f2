import { describe, expect, it } from 'vitest';
import { createGapFinder } from '../../../src/log/order/gaps.ts';

/** Times from 0 with these steps. */
function gapsOf(steps: readonly number[]) {
  const finder = createGapFinder();
  let t = 0;
  finder.push(t);
  for (const step of steps) {
    t += step;
    finder.push(t);
  }
  return finder.finish();
}

const many = (n: number, step: number): number[] => Array.from({ length: n }, () => step);

describe('a gap', () => {
  it('is long against the steps on both sides', () => {
    expect(gapsOf([...many(20, 1), 30, ...many(20, 1)])).toEqual([{ at: 20, seconds: 30 }]);
    expect(gapsOf([...many(20, 1), 4.9, ...many(20, 1)])).toEqual([]);
    expect(gapsOf([...many(20, 1), 5.125, ...many(20, 1)])).toEqual([{ at: 20, seconds: 5.125 }]);
  });

  it('is longer than 2 s, however short the step', () => {
    expect(gapsOf([...many(20, 0.125), 1.75, ...many(20, 0.125)])).toEqual([]);
    expect(gapsOf([...many(20, 0.125), 2.25, ...many(20, 0.125)])).toEqual([{ at: 2.5, seconds: 2.25 }]);
  });

  it('is not where the logger slows down, or is slow', () => {
    expect(gapsOf([...many(50, 0.1), ...many(50, 60), ...many(50, 0.1)])).toEqual([]);
    expect(gapsOf(many(50, 600))).toEqual([]);
  });

  it('is found while the logger is slow, and at the change from slow to fast', () => {
    expect(gapsOf([...many(20, 60), 7200, ...many(20, 60)])).toEqual([{ at: 1200, seconds: 7200 }]);
    expect(gapsOf([...many(20, 60), 7200, ...many(20, 0.5)])).toEqual([{ at: 1200, seconds: 7200 }]);
  });

  it('is not a pause that the log makes again and again', () => {
    const bursts = Array.from({ length: 12 }, () => [...many(20, 0.1), 58]).flat();
    expect(gapsOf([...bursts, ...many(20, 0.1)])).toEqual([]);
    const [gap] = gapsOf([...bursts, ...many(20, 0.1), 300, ...many(20, 0.1)]);
    expect(gap.seconds).toBeCloseTo(300, 9);
  });

  it('is not a wait of a logger that writes when something changes, up to the longest that it makes by itself', () => {
    const waits = Array.from({ length: 15 }, (_, k) => [...many(20, 0.1), 5 + 3.6 * k]).flat();
    const beats = Array.from({ length: 12 }, () => [...many(20, 0.1), 60]).flat();
    const log = [...waits, ...beats, ...many(20, 0.1)];
    expect(gapsOf(log)).toEqual([]);
    expect(gapsOf([...log, 300, ...many(20, 0.1)]).map(({ seconds }) => Math.round(seconds))).toEqual([300]);
    // Without a habit of its own nothing says that it waits.
    expect(gapsOf([...waits, ...many(20, 0.1)])).toHaveLength(15);
  });

  it('may be one where the logger beats but every quarter of an hour: so long a wait tells nothing', () => {
    const waits = Array.from({ length: 15 }, (_, k) => [...many(20, 0.1), 5 + 12 * k]).flat();
    const beats = Array.from({ length: 12 }, () => [...many(20, 0.1), 900]).flat();
    const found = gapsOf([...waits, ...beats, ...many(20, 0.1)]);
    expect(found.map(({ seconds }) => Math.round(seconds))).toEqual([125, 137, 149, 161, 173]);
  });

  it('does not hide another near to it', () => {
    expect(gapsOf([...many(20, 1), 100, 1, 1, 200, ...many(20, 1)]).map(({ seconds }) => seconds)).toEqual([100, 200]);
  });

  it('is found next to the ends of the log', () => {
    expect(gapsOf([1, 1, 50, 1, 1])).toEqual([{ at: 2, seconds: 50 }]);
  });

  it('is not made by samples that share a time', () => {
    expect(gapsOf([...many(20, 0), 10, ...many(5, 0), 10, 0, 10, 0, 0, 10])).toEqual([]);
  });
});
