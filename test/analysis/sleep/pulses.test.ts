import { describe, expect, it } from 'vitest';
import { uniformAt } from '../../../src/demo/random.ts';
import { analysed, log, noisy, type Stretch } from '../blocks.ts';
import { asleep, draw, drive, settling } from '../vehicle.ts';

const HOUR = 3600;
const STEP_S = 0.1;
const SLEEP_A = 0.02;

/** Asleep, with a load for `onS` out of every `everyS`. */
function pulses(seconds: number, amps: number, onS: number, everyS: number): Stretch {
  const rows = (s: number) => Math.round(s / STEP_S);
  const isOn = (s: number) => rows(s) % rows(everyS) < rows(onS);
  return draw(
    noisy((s) => SLEEP_A + (isOn(s) ? amps : 0), 0.002),
    seconds,
    STEP_S,
  );
}

/** The one stand after a drive, and its wakes. */
function night(stretches: readonly Stretch[], stepS = STEP_S) {
  const { stands, wakes } = analysed(
    log([...drive(600, stepS, 0.02), ...settling(stepS), ...stretches, asleep(600, stepS)]),
  );
  expect(stands).toHaveLength(1);
  return { ...stands[0], wakes };
}

describe('a lamp that flashes while the vehicle sleeps', () => {
  it.each([2, 3, 10, 30])('wakes nothing where it does so every %d s: its mean is drawn asleep', (everyS) => {
    const found = night([pulses(3 * HOUR, 1, 0.1, everyS)]);
    expect(found.wakes).toEqual([]);
    expect(found.timeToSleepS).toBeLessThan(610);
    expect(found.asleepS).toBeGreaterThan(3 * HOUR);
    expect(found.sleepDrawA?.value).toBeCloseTo(SLEEP_A + ((0.1 / everyS) * 3 * HOUR) / found.asleepS, 3);
  });

  it('may begin hours after the vehicle fell asleep', () => {
    const found = night([asleep(HOUR, STEP_S), pulses(3 * HOUR, 1, 0.1, 30), asleep(HOUR, STEP_S)]);
    expect(found.wakes).toEqual([]);
    expect(found.asleepS).toBeGreaterThan(5 * HOUR);
  });

  it('may be met by the rows of a slower log now and then', () => {
    const met = (s: number) => uniformAt(7, s) < 0.025;
    const found = night([draw((s) => SLEEP_A + (met(s) ? 0.5 : 0), 4 * HOUR, 1)], 1);
    expect(found.wakes).toEqual([]);
    expect(found.asleepS).toBeGreaterThan(4 * HOUR);
  });

  it.each([10, 30])('is said to be a part of sleep where it stands out of it, every %d s', (everyS) => {
    const { pulses: found } = night([pulses(3 * HOUR, 1, 0.1, everyS)]);
    expect((found?.seen ?? 0) / ((3 * HOUR) / everyS)).toBeCloseTo(1, 1);
    // 0.1 A·s each.
    expect((found?.chargeAs ?? 0) / ((0.1 * 3 * HOUR) / everyS)).toBeCloseTo(1, 1);
  });

  it('is said not to be there where the vehicle only sleeps', () => {
    expect(night([asleep(3 * HOUR, STEP_S)]).pulses).toEqual({ seen: 0, chargeAs: 0 });
  });

  it('hides no wake', () => {
    const wake = draw(3, 40, STEP_S);
    const part = pulses(0.5 * HOUR, 1, 0.1, 10);
    const found = night([part, wake, part, wake, part, wake, part, wake, part]);
    expect(found.wakes).toHaveLength(4);
    for (const { seconds, chargeAh } of found.wakes) {
      expect(seconds).toBeGreaterThanOrEqual(39);
      expect(seconds).toBeLessThanOrEqual(42);
      expect(chargeAh * 3600).toBeCloseTo(3 * 40, -1);
    }
  });
});

describe('short wakes', () => {
  it.each([
    [1, 2],
    [3, 2],
    [1, 5],
    [2, 30],
  ])('of %d s stay wakes where they come every %d min', (onS, everyMin) => {
    const found = night([asleep(HOUR, STEP_S), pulses(4 * HOUR, 1, onS, everyMin * 60)]);
    expect(found.wakes).toHaveLength((4 * 60) / everyMin);
  });

  it('are one that goes on for some minutes where it is busy for a moment every few seconds', () => {
    const busy = pulses(5 * 60, 0.3, 1, 10);
    const found = night([asleep(HOUR, STEP_S), busy, asleep(HOUR, STEP_S), busy, asleep(HOUR, STEP_S)]);
    expect(found.wakes).toHaveLength(2);
    expect(found.wakes[0].seconds).toBeGreaterThan(4 * 60);
  });
});

it('pulses that come to more than a vehicle asleep may draw are no part of sleep', () => {
  const found = night([asleep(HOUR, STEP_S), pulses(3 * HOUR, 5, 1, 10), asleep(HOUR, STEP_S)]);
  expect(found.asleepS).toBeLessThan(2.3 * HOUR);
  expect(found.wakes).toHaveLength(1);
});
