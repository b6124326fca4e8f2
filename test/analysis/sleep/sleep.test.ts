import { expect, it } from 'vitest';
import { analysed, log, noisy, type Stretch } from '../blocks.ts';
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

it('nothing asleep draws amperes', () => {
  expect(sleepDraws(awake(6 * HOUR, 2))).toEqual([null]);
});

it('a short sleep in a long stand awake is found', () => {
  const [stand] = standsOf(...drive(600, 1), awake(8 * HOUR, 3), asleep(HOUR, 1));
  expect(stand.asleepS).toBeGreaterThan(0.9 * HOUR);
  expect(stand.sleepDrawA?.value).toBeCloseTo(0.02, 2);
});
