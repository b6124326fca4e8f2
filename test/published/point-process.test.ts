/**
 * Point processes of known kind. A bound on an error of the first kind is a claim that can be held against its definition:
 * of Poisson processes no more than the stated share may be given a period (Markov's inequality for a mean likelihood
 * ratio: Wasserman, Ramdas and Balakrishnan, PNAS 2020, from memory).
 */
import { expect, test } from 'vitest';
import { makeRandom } from '../../src/demo/random.ts';
import { findClock } from '../../src/measures/wakes/periodicity.ts';

const SPAN_S = 3 * 86_400;

test('none of 120 Poisson processes has a period', () => {
  const random = makeRandom(20);
  let found = 0;
  for (let k = 0; k < 120; k++) {
    const meanS = 7200 * 4 ** random.uniform();
    const times: number[] = [];
    for (let t = random.wait(meanS); t < SPAN_S; t += random.wait(meanS)) times.push(t);
    if (findClock([times], 0)) found++;
  }
  expect(found).toBe(0);
}, 60_000);

test('of 40 periodic processes with a tenth missed each has its own', () => {
  const random = makeRandom(21);
  const off: number[] = [];
  for (let k = 0; k < 40; k++) {
    const periodS = 7200 * 3 ** random.uniform();
    const jitterS = periodS * random.between(0, 0.03);
    const times: number[] = [];
    for (let t = periodS; t < SPAN_S; t += periodS + jitterS * random.normal()) if (random.chance(0.9)) times.push(t);
    off.push(Math.abs((findClock([times], 0)?.periodS ?? 0) / periodS - 1));
  }
  expect(off.filter((share) => share > 0.02)).toEqual([]);
}, 60_000);
