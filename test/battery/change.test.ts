import { describe, expect, it } from 'vitest';
import { firstDrift, levelChange } from '../../src/battery/change.ts';

describe('one change of level', () => {
  it('is found on a level a million times its size', () => {
    const change = levelChange([1e6, 1e6 + 1, 1e6, 1e6 + 11, 1e6 + 10, 1e6 + 11, 1e6 + 10]);
    expect(change?.before).toBe(3);
    expect((change?.meanAfter ?? 0) - 1e6).toBeCloseTo(10.5, 6);
  });

  it('gains by how much less is left to scatter', () => {
    // Squares about the one mean of 15: 2 · (36 + 16 + 36 + 16) = 208; about the two means: 8 · 1.
    const change = levelChange([9, 11, 9, 11, 19, 21, 19, 21]);
    expect(change?.before).toBe(4);
    expect(change?.gain).toBeCloseTo(8 * Math.log(208 / 8), 9);
  });

  it('brings no gain in a constant series, and none is looked for in two values', () => {
    expect(levelChange([5, 5, 5, 5])?.gain).toBe(0);
    expect(levelChange([1, 2])).toBeNull();
    expect(levelChange([1, 2, 9])?.before).toBe(2);
  });
});

describe('CUSUM', () => {
  it('says which way, and nothing for a series on target', () => {
    const asked = { target: 10, slack: 0.5, limit: 2 };
    expect(firstDrift([10, 9, 8, 8, 8], asked)).toEqual({ index: 3, side: 'down' });
    expect(firstDrift([10, 10.4, 9.6, 10.4, 9.6], asked)).toBeNull();
  });
});
