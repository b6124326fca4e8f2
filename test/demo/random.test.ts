import { describe, expect, it } from 'vitest';
import { hash, makeRandom, normalPairAt, uniformAt } from '../../src/demo/random.ts';

const N = 20_000;

describe('random numbers', () => {
  it('are the same whatever was asked before', () => {
    const later = uniformAt(3, 1000);
    for (let n = 0; n < 10; n++) uniformAt(3, n);
    expect(uniformAt(3, 1000)).toBe(later);
    expect(uniformAt(4, 1000)).not.toBe(later);
  });

  it('do not repeat beyond 32 bits of count', () => {
    expect(hash(1, 5)).not.toBe(hash(1, 5 + 2 ** 32));
  });

  it('fill the unit interval evenly', () => {
    const tenths = new Array<number>(10).fill(0);
    for (let n = 0; n < N; n++) tenths[Math.floor(10 * uniformAt(9, n))]++;
    // Standard deviation of each count: √(N · 0.1 · 0.9) ≈ 42.
    for (const count of tenths) expect(Math.abs(count - N / 10)).toBeLessThan(5 * 42);
  });

  it('give normal pairs of mean 0, variance 1, uncorrelated', () => {
    const pair = new Float64Array(2);
    let [sum, squares, product, beyond] = [0, 0, 0, 0];
    for (let n = 0; n < N; n++) {
      normalPairAt(2, n, pair);
      sum += pair[0];
      squares += pair[1] ** 2;
      product += pair[0] * pair[1];
      if (Math.abs(pair[0]) > 2) beyond++;
    }
    expect(Math.abs(sum / N)).toBeLessThan(5 / Math.sqrt(N));
    expect(Math.abs(squares / N - 1)).toBeLessThan((5 * Math.SQRT2) / Math.sqrt(N));
    expect(Math.abs(product / N)).toBeLessThan(5 / Math.sqrt(N));
    // 4.55 % lie beyond two standard deviations.
    expect(beyond / N).toBeCloseTo(0.0455, 2);
  });

  it('wait as a Poisson process does', () => {
    const random = makeRandom(8);
    let sum = 0;
    for (let n = 0; n < N; n++) sum += random.wait(60);
    expect(Math.abs(sum / N - 60)).toBeLessThan((5 * 60) / Math.sqrt(N));
  });
});
