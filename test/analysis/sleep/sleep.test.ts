import { expect, it } from 'vitest';
import { findSleep } from '../../../src/analysis/sleep/sleep.ts';
import type { Label } from '../../../src/analysis/states/label.ts';
import { analysed, log, noisy, type Stretch, tilesOf } from '../blocks.ts';
import { asleep, draw, drive, settling } from '../vehicle.ts';

const HOUR = 3600;
const standsOf = (...stretches: readonly Stretch[]) => analysed(log(stretches)).stands;
const sleepDraws = (...stretches: readonly Stretch[]) =>
  standsOf(...stretches).map(({ sleepDrawA }) => sleepDrawA?.value ?? null);
const awake = (seconds: number, amps: number) => draw(noisy(amps, 0.02), seconds, 1);

it('a vehicle sleeps at the lowest level that it keeps, once its modules have shut down', () => {
  const [, stand] = standsOf(asleep(HOUR, 1), ...drive(600, 1), ...settling(1), asleep(3 * HOUR, 1));
  expect(stand.sleepDrawA?.value).toBeCloseTo(0.02, 3);
  expect(stand.timeToSleepS).toBeGreaterThan(580);
  expect(stand.timeToSleepS).toBeLessThan(640);
});

it('a level far above the lowest of the log is no sleep, however steady', () => {
  const [first, second] = sleepDraws(asleep(3 * HOUR, 1), ...drive(600, 1), awake(3 * HOUR, 3));
  expect(first).toBeCloseTo(0.02, 3);
  expect(second).toBeNull();
});

it('a level higher than usual is taken for sleep only where it was kept for long', () => {
  expect(sleepDraws(...drive(600, 1), awake(0.5 * HOUR, 0.4))).toEqual([null]);
  expect(sleepDraws(...drive(600, 1), awake(3 * HOUR, 0.4))[0]).toBeCloseTo(0.4, 2);
});

it('a stand in the sun, whose level flows in, is no sleep and hides that of no night; a zero that is off hides none', () => {
  const level = (amps: number, seconds: number) => draw(noisy(amps, 0.002), seconds, 1);
  const trip = () => drive(600, 1);
  const [night, sunny] = sleepDraws(level(0.024, 3 * HOUR), ...trip(), level(-0.25, 2 * HOUR));
  expect([night?.toFixed(3), sunny]).toEqual(['0.024', null]);
  const off = sleepDraws(level(-0.058, 3 * HOUR), ...trip(), level(-0.061, 3 * HOUR));
  expect(off.map((amps) => amps?.toFixed(2))).toEqual(['-0.06', '-0.06']);
});

it('nothing asleep draws amperes', () => {
  expect(sleepDraws(awake(6 * HOUR, 2))).toEqual([null]);
});

it('a short sleep in a long stand awake is found', () => {
  const [stand] = standsOf(...drive(600, 1), awake(8 * HOUR, 3), asleep(HOUR, 1));
  expect(stand.asleepS).toBeGreaterThan(0.9 * HOUR);
  expect(stand.sleepDrawA?.value).toBeCloseTo(0.02, 2);
});

it('what scatters in tiles that were merged for want of room wakes no more often than in whole ones', () => {
  // Half a day of a coarse sensor, read once a second, in steps of 10 mA.
  const fine = noisy(0.006, 0.01);
  const block = log([
    draw((s, n) => 0.01 * Math.round(100 * (typeof fine === 'function' ? fine(s, n) : fine)), 40_000, 1),
  ]);
  const under = (ceiling?: number) => {
    const tiles = tilesOf(block, ceiling);
    const labels = Array.from({ length: tiles.n }, (): Label => 'parked');
    const [sleep] = findSleep(tiles, labels, [{ first: 0, last: tiles.n - 1, keyOffInLog: false, keyOnInLog: false }]);
    const seconds = [...sleep.asleep].reduce((sum, is, k) => (is ? sum + tiles.t1[k] - tiles.t0[k] : sum), 0);
    return { n: tiles.n, asleep: seconds / (tiles.t1[tiles.n - 1] - tiles.t0[0]) };
  };
  const [whole, merged] = [under(), under(16_384)];
  expect(merged.n).toBeLessThan(whole.n / 2);
  expect([whole.asleep, merged.asleep]).toEqual([1, 1]);
});
