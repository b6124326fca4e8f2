import { describe, expect, it } from 'vitest';
import type { Stand } from '../../../src/analysis/model.ts';
import { check as deepDischarge } from '../../../src/checks/deep-discharge.ts';
import {
  analysed,
  hole,
  log,
  noisy,
  type SessionWishes,
  START,
  type Stretch,
  sessionWith,
  stretch,
} from '../blocks.ts';
import { asleep, charger, draw, drive, settling } from '../vehicle.ts';

const parkedOf = (stretches: readonly Stretch[], wishes?: SessionWishes) => analysed(log(stretches), wishes).stands;
/** The last stand, where the drive before it is only there to give it a key-off. */
const standAfter = (stretches: readonly Stretch[]): Stand => {
  const parked = parkedOf([asleep(1800, 1), ...drive(600, 1, 0.05), ...stretches]);
  return parked[parked.length - 1];
};
const HOUR = 3600;

describe('a vehicle asleep', () => {
  it('has its time to sleep from key-off, its draw and its uncertainty', () => {
    const stand = standAfter([...settling(1, 900), asleep(4 * HOUR, 1, 0.031)]);
    expect(stand).toMatchObject({ keyOffInLog: true, keyOnInLog: false, wakes: 0 });
    expect(Math.abs((stand.timeToSleepS ?? 0) - 900)).toBeLessThanOrEqual(15);
    expect(stand.sleepDrawA?.value).toBeCloseTo(0.031, 3);
    // Half-widths of 2 mA and 0.5 %, each taken as rectangular: at least 1.2 mA.
    expect(stand.sleepDrawA?.u).toBeGreaterThan(0.0011);
    expect(stand.sleepDrawA?.u).toBeLessThan(0.002);
  });

  it.each([
    ['1 s', 1],
    ['10 s', 10],
    ['1 min', 60],
  ])('reads the same at a row each %s', (_, stepS) => {
    const stand = standAfter([...settling(stepS, 1800), asleep(8 * HOUR, stepS, 0.031)]);
    expect(Math.abs((stand.timeToSleepS ?? 0) - 1800)).toBeLessThanOrEqual(15 + stepS);
    expect(stand.sleepDrawA?.value).toBeCloseTo(0.031, 2);
    expect(stand.wakes).toBe(0);
  });

  it('draws much and steadily: still asleep once its modules had time to shut down', () => {
    const night = asleep(6 * HOUR, 1, 0.38);
    const [first, second] = parkedOf([night, ...drive(600, 1, 0.05), draw(noisy(2.5, 0.02), 900, 1), night]);
    for (const { sleepDrawA, asleepS } of [first, second]) {
      expect(sleepDrawA?.value).toBeCloseTo(0.38, 2);
      expect(asleepS).toBeGreaterThan(5.5 * HOUR);
    }
    expect(Math.abs((second.timeToSleepS ?? 0) - 900)).toBeLessThanOrEqual(15);
  });

  it('tells the charge that it holds now: the latest of whole rests, also where one before a charger was longer', () => {
    const whole = standAfter([...settling(10, 900), asleep(30 * HOUR, 10), charger(HOUR, 10), asleep(10 * HOUR, 10)]);
    expect(whole.end - (whole.rest?.at ?? 0)).toBeLessThan(60);
    const short = standAfter([...settling(10, 900), asleep(30 * HOUR, 10), charger(HOUR, 10), asleep(3 * HOUR, 10)]);
    expect(short.end - (short.rest?.at ?? 0)).toBeGreaterThan(3 * HOUR);
  });

  it('is not taken for asleep at ten times the draw at which it slept before', () => {
    expect(standAfter([...settling(1, 900), asleep(6 * HOUR, 1, 0.38)]).sleepDrawA).toBeNull();
  });

  it('wakes and sleeps again: count, time and charge of each', () => {
    const wake = draw(noisy(2.5, 0.02), 120, 1);
    const nap = asleep(HOUR, 1);
    const { wakes, stands } = analysed(
      log([asleep(1800, 1), ...drive(600, 1, 0.05), ...settling(1), nap, wake, nap, wake, wake, nap]),
    );
    expect(wakes.map((found) => Math.round(found.seconds / 10) * 10)).toEqual([120, 240]);
    expect(wakes[0].meanA).toBeCloseTo(2.48, 1);
    expect(wakes[0].chargeAh).toBeCloseTo((2.48 * 120) / 3600, 2);
    expect(stands[1].wakes).toBe(2);
  });

  it('is not woken by single readings that are missing', () => {
    const patchy = stretch(4 * HOUR, 1, { v: 12.6, i: (_, n) => (n % 50 === 7 ? Number.NaN : -0.02) });
    const stand = standAfter([...settling(1), patchy]);
    expect(stand.wakes).toBe(0);
    expect(stand.asleepS).toBeGreaterThan(4 * HOUR - 60);
  });

  it('is not woken by the sensor’s noise, nor by an alarm lamp', () => {
    const lamp = (_: number, n: number) => 0.02 + (n % 3 === 0 ? 0.03 : 0);
    const stand = standAfter([...settling(1), draw(noisy(lamp, 0.006), 8 * HOUR, 1)]);
    expect(stand.wakes).toBe(0);
    expect(stand.sleepDrawA?.value).toBeCloseTo(0.03, 2);
  });
});

describe('a vehicle that does not sleep', () => {
  it('has no sleeping draw and no time to sleep', () => {
    const stand = standAfter([draw((s) => 2.5 + Math.sin(s / 40), 5 * HOUR, 1)]);
    expect([stand.sleepDrawA, stand.timeToSleepS, stand.asleepS]).toEqual([null, null, 0]);
    expect(stand.settlingS).toBeGreaterThan(4.9 * HOUR);
  });

  it('is held awake for hours, then sleeps: the whole way is settling', () => {
    const stand = standAfter([draw(noisy(1.8, 0.02), 20 * HOUR, 10), asleep(1.5 * HOUR, 10)]);
    expect(Math.abs((stand.timeToSleepS ?? 0) - 20 * HOUR)).toBeLessThanOrEqual(30);
    expect(stand.sleepDrawA?.value).toBeCloseTo(0.02, 3);
  });

  it('is held awake for hours at a draw that could be sleep, then sleeps lower', () => {
    const stand = standAfter([...settling(10), draw(noisy(0.9, 0.01), 20 * HOUR, 10), asleep(1.5 * HOUR, 10)]);
    expect(stand.timeToSleepS).toBeGreaterThan(20 * HOUR);
    expect(stand.sleepDrawA?.value).toBeCloseTo(0.02, 3);
  });

  it('cannot be told from one asleep in the first minutes of a high draw', () => {
    expect(standAfter([draw(noisy(0.38, 0.004), 600, 1)]).sleepDrawA).toBeNull();
  });
});

describe('what does not count', () => {
  it('is time on a charger: draw and charge are those of the rest', () => {
    const stand = standAfter([...settling(1), asleep(2 * HOUR, 1), charger(2 * HOUR, 1), asleep(2 * HOUR, 1)]);
    expect(Math.abs(stand.countedS - 4 * HOUR - 600)).toBeLessThan(60);
    expect(stand.chargeInAh).toBeLessThan(0.02);
    expect(stand.sleepDrawA?.value).toBeCloseTo(0.02, 2);
  });

  it('is time without a battery', () => {
    const off = stretch(HOUR, 1, { v: 0.02, i: 0 });
    const stand = standAfter([...settling(1), asleep(2 * HOUR, 1), off, asleep(2 * HOUR, 1)]);
    expect(Math.abs(stand.countedS - 4 * HOUR - 600)).toBeLessThan(30);
  });
});

describe('a stand', () => {
  it('that the log begins in has no key-off, and no time to sleep', () => {
    const [stand] = parkedOf([...settling(1), asleep(HOUR, 1), ...drive(600, 1, 0.05)]);
    expect(stand).toMatchObject({ start: START, keyOffInLog: false, keyOnInLog: true, timeToSleepS: null });
  });

  it('goes on through a hole in which nothing changed', () => {
    const parked = parkedOf([...settling(1), asleep(2 * HOUR, 1), hole(2 * HOUR), asleep(2 * HOUR, 1)]);
    expect(parked).toHaveLength(1);
    expect(parked[0].countedS).toBeLessThan(4.2 * HOUR);
  });

  it('goes on through it also where the sensor is noisy', () => {
    const noise = [1, 2, 3, 4, 5, 6].map((stream) => draw(noisy(0.02, 0.03, stream), 2 * HOUR, 1));
    for (const night of noise) expect(parkedOf([night, hole(2 * HOUR), night])).toHaveLength(1);
  });

  it('ends at a hole after which the battery is charged', () => {
    const charged = stretch(2 * HOUR, 1, { v: noisy(12.9, 0.002), i: noisy(-0.02, 0.002) });
    expect(parkedOf([...settling(1), asleep(2 * HOUR, 1), hole(2 * HOUR), charged])).toHaveLength(2);
  });

  it('rests: voltage from its end, time since the charge', () => {
    const stand = standAfter([
      ...settling(1),
      stretch(6 * HOUR, 1, { v: noisy(12.58, 0.002), i: noisy(-0.02, 0.002) }),
    ]);
    expect(stand.rest?.volts.value).toBeCloseTo(12.58, 3);
    expect(stand.rest?.sinceChargeInLog).toBe(true);
    expect(Math.abs((stand.rest?.sinceChargeS ?? 0) - 6 * HOUR - 600)).toBeLessThan(30);
    expect(Number.isFinite(stand.rest?.volts.u)).toBe(true);
  });

  it('rests at a voltage that still falls: told is the mean of its last ten minutes', () => {
    // 60 mV an hour down to 12.50 V: 5 mV above the end on the mean of ten minutes, 15 mV on that of half an hour.
    const falling = stretch(6 * HOUR, 1, { v: (s) => 12.5 + 0.06 * (6 - s / HOUR), i: noisy(-0.02, 0.002) });
    expect(standAfter([...settling(1), falling]).rest?.volts.value).toBeCloseTo(12.505, 3);
  });

  it('rests twice, with a wake between: the voltage is that of the rest that is longer since the charge', () => {
    const night = (volts: number) => stretch(3 * HOUR, 1, { v: noisy(volts, 0.002), i: noisy(-0.02, 0.002) });
    const stand = standAfter([...settling(1), night(12.7), draw(noisy(2.5, 0.02), 200, 1), night(12.5)]);
    expect(stand.wakes).toBe(1);
    expect(stand.rest?.volts.value).toBeCloseTo(12.5, 2);
    expect(Math.abs((stand.rest?.sinceChargeS ?? 0) - 6 * HOUR - 800)).toBeLessThan(30);
  });

  it('does not rest in a single row between a wake and the engine, which is a mean of both', () => {
    // Rows of a minute: 12.54 V at 5 A, and half of the way to 14.1 V beside it.
    const row = (v: number, i: number) => stretch(60, 60, { v, i });
    const night = stretch(8 * HOUR, 60, { v: 12.58, i: -0.19 });
    const life = [draw(2, 600, 60), night, row(12.54, -5), row(13.32, 0.09), ...drive(1800, 60, 60)];
    const [longest] = parkedOf(life).toSorted((a, b) => b.countedS - a.countedS);
    expect(longest?.rest?.volts.value).toBeCloseTo(12.58, 2);
  });

  it('of less than an hour has no rest voltage; one of a slow log has one with an uncertainty', () => {
    expect(standAfter([...settling(1), asleep(1800, 1)]).rest).toBeNull();
    const slow = standAfter([draw(2, 600, 600), asleep(10 * HOUR, 600)]);
    expect(slow.rest?.volts.u).toBeGreaterThan(0);
  });
});

it('a log of twelve minutes is analysed as far as it goes', () => {
  const { stands, periods, wakes } = analysed(log([...settling(1, 400), asleep(320, 1)]));
  expect(stands).toHaveLength(1);
  expect(stands[0]).toMatchObject({ keyOffInLog: false, timeToSleepS: null, rest: null });
  expect(periods.map((period) => period.kind)).toEqual(['settling', 'asleep']);
  expect(wakes).toEqual([]);
});

describe('a stretch without current', () => {
  const unread = (seconds: number) => stretch(seconds, 1, { v: noisy(12.4, 0.002) });
  const life = [asleep(HOUR, 1), ...drive(600, 1, 0.05), ...settling(1, 300)];

  it('is no settling and no wake: nobody can tell whether the vehicle slept', () => {
    const { periods, wakes } = analysed(
      log([...life, unread(3 * HOUR), asleep(HOUR, 1), unread(2 * HOUR), asleep(HOUR, 1)]),
    );
    expect(wakes).toEqual([]);
    const unknown = periods.filter(({ kind }) => kind === 'no-data').map(({ start, end }) => (end - start) / HOUR);
    expect(unknown.map(Math.round)).toEqual([3, 2]);
    for (const { kind, start, end } of periods)
      if (kind === 'awake' || kind === 'settling') expect(end - start).toBeLessThan(600);
  });

  it('keeps its voltage: a battery that is drained in it is told', () => {
    const flat = stretch(HOUR, 1, { v: noisy(9.5, 0.002) });
    const analysis = analysed(log([...life, asleep(HOUR, 1), flat, asleep(HOUR, 1)]));
    expect(deepDischarge.answer(analysis, sessionWith()).status).toBe('fault');
  });
});

describe('a battery that was taken off while the logger stayed on its posts', () => {
  it.each([0.018, 0.18])('leaves the sleep around it as it was, at %d A', (amps) => {
    const off = stretch(50 * 60, 1, { v: noisy(12.5, 0.002), i: noisy(0, 0.0005) });
    const night = [...settling(1, 900), asleep(4 * HOUR, 1, amps), off, asleep(8 * HOUR, 1, amps)];
    const [, stand] = parkedOf([asleep(2 * HOUR, 1, amps), ...drive(600, 1, 0.05), ...night]);
    expect(Math.abs((stand.timeToSleepS ?? 0) - 900)).toBeLessThanOrEqual(15);
    expect(stand.asleepS).toBeGreaterThan(11.5 * HOUR);
  });
});
