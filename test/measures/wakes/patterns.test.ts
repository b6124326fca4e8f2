import { expect, test } from 'vitest';
import type { Wake } from '../../../src/analysis/model.ts';
import { makeRandom } from '../../../src/demo/random.ts';
import type { Link } from '../../../src/measures/circuits/links.ts';
import { findPatterns } from '../../../src/measures/wakes/patterns.ts';

const DAY = 86_400;
const random = makeRandom(99);

function wake(start: number, seconds: number, meanA: number, channels: readonly string[] = []): Wake {
  const length = seconds * (1 + 0.06 * random.normal());
  return { start, seconds: length, peakA: 2 * meanA, meanA, chargeAh: (meanA * length) / 3600, stand: 0, channels };
}

/** Three days in one stand. */
const every = (periodS: number, seconds: number, meanA: number, channels?: readonly string[]) => {
  const wakes: Wake[] = [];
  for (let t = periodS; t < 3 * DAY; t += periodS * (1 + 0.015 * random.normal()))
    wakes.push(wake(t, seconds, meanA, channels));
  return wakes;
};
const inOrder = (...lists: readonly Wake[][]) => lists.flat().sort((a, b) => a.start - b.start);
const link = (channel: string, chance: number): Link => ({
  channel,
  wakesWith: 10,
  wakesSeen: 20,
  chargeShare: 0.5,
  chance,
  lagS: 0,
  match: 1,
  settlings: null,
});
const near = (value: number | null, right: number) => value !== null && Math.abs(value / right - 1) < 0.02;

test('two sources of different size are told apart, the dearer first', () => {
  const wakes = inOrder(every(2220, 150, 2.4), every(5000, 40, 0.8));
  const [dear, cheap, ...others] = findPatterns(wakes, [], 3 * DAY, 1);
  expect(others).toEqual([]);
  expect(near(dear.periodS, 2220) && near(cheap.periodS, 5000)).toBe(true);
  expect(dear.meanA).toBeCloseTo(2.4, 1);
  // 2.4 A for 150 s of each 2220 s.
  expect(dear.chargeAhPerDay).toBeCloseTo((2.4 * 150 * 24) / 2220, 1);
});

test('two clocks of the same size and length are told apart by their times', () => {
  const wakes = inOrder(every(2220, 100, 1.5), every(3700, 100, 1.5));
  const periods = findPatterns(wakes, [], 3 * DAY, 1).map(({ periodS }) => periodS);
  expect(periods.some((periodS) => near(periodS, 2220))).toBe(true);
  expect(periods.some((periodS) => near(periodS, 3700))).toBe(true);
});

test('one clock that wakes it for very different lengths is one pattern', () => {
  const wakes = every(3600, 100, 1.5).map((one) => {
    const factor = 0.2 * 60 ** random.uniform();
    return { ...one, seconds: one.seconds * factor, chargeAh: one.chargeAh * factor };
  });
  const [pattern, ...others] = findPatterns(wakes, [], 3 * DAY, 1);
  expect(others).toEqual([]);
  expect(near(pattern.periodS, 3600)).toBe(true);
});

test('a linked circuit parts wakes that look alike; one that goes with them by chance does not', () => {
  const wakes = inOrder(every(2220, 100, 1.5, ['Tracker']), [wake(9000, 100, 1.5, ['Lamp']), wake(90_500, 100, 1.5)]);
  const patterns = findPatterns(wakes, [link('Tracker', 0.0005), link('Lamp', 0.6)], 3 * DAY, 1);
  expect(patterns.map(({ channel, count }) => [channel, count])).toEqual([
    ['Tracker', wakes.length - 2],
    [null, 2],
  ]);
});

test('whatever wakes it, every wake is in just one pattern', () => {
  for (let k = 0; k < 5; k++) {
    const source = () => every(900 * 12 ** random.uniform(), 30 * 10 ** random.uniform(), 0.3 * 8 ** random.uniform());
    const wakes = inOrder(source(), source(), source().slice(0, 9));
    const patterns = findPatterns(wakes, [], 3 * DAY, 1);
    expect(patterns.flatMap((pattern) => pattern.parts ?? []).sort((a, b) => a - b)).toEqual([...wakes.keys()]);
    expect(patterns.reduce((sum, pattern) => sum + pattern.count, 0)).toBe(wakes.length);
  }
});

test('wakes like no other share the last pattern', () => {
  const clocked = every(2220, 100, 1.5);
  const between = (k: number) => clocked[k].start + 1000;
  const wakes = inOrder(clocked, [wake(between(3), 300, 0.3), wake(between(40), 20, 9)]);
  const patterns = findPatterns(wakes, [], 3 * DAY, 1);
  const places = patterns.flatMap((pattern) => pattern.parts ?? []).sort((a, b) => a - b);
  expect(places).toEqual(wakes.map((_, k) => k));
  expect(patterns.at(-1)).toMatchObject({ count: 2, periodS: null });
});

test('no wakes, no pattern; a wake of no size is no stumbling block', () => {
  expect(findPatterns([], [], DAY, 1)).toEqual([]);
  expect(findPatterns([wake(100, 30, 0), wake(9000, 30, -0.001)], [], DAY, 1)).toHaveLength(1);
});

test('where two clocks meet in one wake, neither gets a third beside it', () => {
  const merged: Wake[] = [];
  for (const one of inOrder(every(2220, 150, 2.4), every(5000, 200, 0.6))) {
    const last = merged.at(-1);
    if (last === undefined || one.start > last.start + last.seconds + 20) {
      merged.push(one);
      continue;
    }
    const seconds = Math.max(last.seconds, one.start + one.seconds - last.start);
    const chargeAh = last.chargeAh + one.chargeAh;
    merged[merged.length - 1] = { ...last, seconds, chargeAh, meanA: (chargeAh * 3600) / seconds };
  }
  const clocks = findPatterns(merged, [], 3 * DAY, 1).filter((pattern) => pattern.periodS !== null);
  expect(clocks).toHaveLength(2);
  expect(near(clocks[0].periodS, 2220) && near(clocks[1].periodS, 5000)).toBe(true);
});
