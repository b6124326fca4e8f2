/** Likelihoods against their closed form: of n waits of mean m by one rate, log L = −n (ln m + 1). */
import { expect, it } from 'vitest';
import { makeRandom } from '../../../src/demo/random.ts';
import { logChance } from '../../../src/measures/wakes/chance-events.ts';

const waits = (n: number, meanS: (k: number) => number) => {
  const random = makeRandom(5);
  return Array.from({ length: n }, (_, k) => random.wait(meanS(k)));
};
const singly = (all: readonly number[]) => {
  const meanS = all.reduce((sum, s) => sum + s, 0) / all.length;
  return -all.length * (Math.log(meanS) + 1);
};

it('no waits say nothing; a few say what one rate says, or a little more', () => {
  expect(logChance([])).toBe(0);
  expect(logChance([100])).toBeGreaterThanOrEqual(-(Math.log(100) + 1) - 1e-9);
});

it('events at one rate are hardly better explained by two', () => {
  const plain = waits(200, () => 3600);
  expect(logChance(plain)).toBeGreaterThanOrEqual(singly(plain));
  // Two more parameters gain half a χ² of two degrees: above 8 in one of some 3000.
  expect(logChance(plain) - singly(plain)).toBeLessThan(8);
});

it('bursts are', () => {
  const bursts = waits(200, (k) => (k % 5 ? 20 : 20_000));
  expect(logChance(bursts) - singly(bursts)).toBeGreaterThan(100);
});
