import { describe, expect, test } from 'vitest';
import { makeRandom } from '../../../src/demo/random.ts';
import { findClock } from '../../../src/measures/wakes/periodicity.ts';

const HOUR = 3600;
const LEAST_S = 80;
const STANDS: readonly (readonly [number, number])[] = [
  [0, 13 * HOUR],
  [14 * HOUR, 22 * HOUR],
  [23 * HOUR, 61 * HOUR],
];
const random = makeRandom(4711);

/** Its clock starts anew with each stand; intervals vary by `jitter` periods, and some wakes are missed. */
const clock = (periodS: number, jitter: number, missed = 0) =>
  STANDS.map(([from, to]) => {
    const times: number[] = [];
    const next = () => periodS * (1 + jitter * random.normal());
    for (let t = from + next(); t < to; t += next()) if (!random.chance(missed)) times.push(t);
    return times;
  });

const atRandom = (meanS: number) =>
  STANDS.map(([from, to]) => {
    const times: number[] = [];
    for (let t = from + random.wait(meanS); t < to; t += LEAST_S + random.wait(meanS)) times.push(t);
    return times;
  });

const together = (a: readonly number[][], b: readonly number[][]) =>
  a.map((times, k) => [...times, ...b[k]].sort((x, y) => x - y));

describe('a clock is found', () => {
  test.each([
    [720, 0.04, 0],
    [2220, 0.01, 0.1],
    [7200, 0.04, 0.1],
    [4 * HOUR, 0.02, 0],
  ])('that starts anew in each stand: %i s, varying by %d, %d missed', (periodS, jitter, missed) => {
    const found = findClock(clock(periodS, jitter, missed), LEAST_S);
    expect(Math.abs((found?.periodS ?? 0) / periodS - 1)).toBeLessThan(0.02);
    expect(found?.jitterS).toBeGreaterThan(0.5 * jitter * periodS);
    expect(found?.jitterS).toBeLessThan(1.6 * jitter * periodS);
    expect(found?.chance).toBeLessThan(0.001);
  });

  test('that runs on through drives', () => {
    const times = STANDS.map(([from, to]) => {
      const first = Math.ceil(from / 5400);
      const last = Math.floor(to / 5400);
      return Array.from({ length: last - first + 1 }, (_, k) => (first + k) * 5400 + 20 * random.normal());
    });
    expect(findClock(times, LEAST_S)?.periodS).toBeCloseTo(5400, -2);
  });

  test('among as many other events, which are left out', () => {
    const times = together(clock(HOUR, 0.02), atRandom(HOUR));
    const found = findClock(times, LEAST_S);
    expect(found?.periodS).toBeGreaterThan(0.98 * HOUR);
    expect(found?.periodS).toBeLessThan(1.02 * HOUR);
    expect(found?.members.length).toBeLessThan(0.7 * times.flat().length);
  });

  test('of a daily wake, from six nights', () => {
    const nights = [0, 1, 2, 3, 4, 5].map((night) => [night * 24 * HOUR + 30 * random.normal()]);
    expect(findClock(nights, LEAST_S)?.periodS).toBeCloseTo(24 * HOUR, -2);
  });
});

describe('no clock is found', () => {
  test('in events that come at random, often or rarely', () => {
    for (const meanS of [0.5 * HOUR, HOUR, 2 * HOUR, 6 * HOUR]) expect(findClock(atRandom(meanS), LEAST_S)).toBeNull();
  });

  test('in bursts, although most waits within them are alike', () => {
    const bursts = atRandom(5 * HOUR).map((times) =>
      times.flatMap((t) => [0, 1, 2].map((k) => t + k * random.between(120, 400))),
    );
    expect(findClock(bursts, LEAST_S)).toBeNull();
  });

  test('in the comings and goings of people', () => {
    const days = [0, 1, 2, 3, 4, 5, 6].flatMap((day) =>
      [7, 12, 18].map((hour) => (24 * day + hour + 0.7 * random.normal()) * HOUR),
    );
    expect(findClock([days], LEAST_S)).toBeNull();
  });

  test('in three events, or none', () => {
    expect(findClock([[0, HOUR, 2 * HOUR]], LEAST_S)).toBeNull();
    expect(findClock([], LEAST_S)).toBeNull();
  });
});
