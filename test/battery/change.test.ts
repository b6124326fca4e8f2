import { describe, expect, it } from 'vitest';
import { firstDrift, levelChange } from '../../src/battery/change.ts';

describe('one change of level', () => {
  it('is found on a level a million times its size', () => {
    const change = levelChange([1e6, 1e6 + 1, 1e6, 1e6 + 11, 1e6 + 10, 1e6 + 11, 1e6 + 10]);
    expect(change?.before).toBe(3);
    expect((change?.meanAfter ?? 0) - 1e6).toBeCloseTo(10.5, 6);
  });

  it('brings no gain in a constant series, and none is looked for in two values', () => {
    expect(levelChange([5, 5, 5, 5])?.gain).toBe(0);
    expect(levelChange([1, 2])).toBeNull();
  });
});

describe('CUSUM', () => {
  it('says which way, and nothing for a series on target', () => {
    const asked = { target: 10, slack: 0.5, limit: 2 };
    expect(firstDrift([10, 9, 8, 8, 8], asked)).toEqual({ index: 3, side: 'down' });
    expect(firstDrift([10, 10.4, 9.6, 10.4, 9.6], asked)).toBeNull();
  });
});
