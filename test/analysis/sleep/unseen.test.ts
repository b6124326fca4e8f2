import { describe, expect, it } from 'vitest';
import { analysed, log, noisy, stretch } from '../blocks.ts';
import { draw, drive, settling } from '../vehicle.ts';

const HOUR = 3600;

/** A drive, modules shutting down, a night that draws `sleepA`; each current, A, as the logger writes it. */
function night(sleepA: number, written: (amps: number) => number) {
  const block = log([...drive(600, 1, 0.05), ...settling(1), draw(noisy(sleepA, 0.0005), 8 * HOUR, 1)]);
  block.i.forEach((amps, k) => {
    block.i[k] = written(amps);
  });
  const { stands, resolution } = analysed(block);
  expect(stands).toHaveLength(1);
  return { ...stands[0], stepA: resolution.i };
}

/** Makes nought of less than this, A. */
const swallow = (leastA: number) => (amps: number) => (Math.abs(amps) < leastA ? 0 : amps);

describe('a sensor that reads nought all night', () => {
  it('may hide any draw up to the least reading that the log has, however fine its steps are elsewhere', () => {
    const { sleepDrawA, unseenA, stepA } = night(0.06, swallow(0.2));
    expect(stepA).toBeLessThan(0.001);
    expect(sleepDrawA?.value).toBe(0);
    expect(unseenA).toBeGreaterThanOrEqual(0.2);
    expect(unseenA).toBeLessThan(0.5);
    expect(sleepDrawA?.u).toBeGreaterThanOrEqual(0.2 / Math.sqrt(3));
  });

  it('hides little where the log has small readings: there is none less than the least', () => {
    const nap = stretch(4 * HOUR, 0.1, { v: noisy(12.5, 0.002), i: 0 });
    const wake = stretch(60, 0.1, { v: 12.4, i: (s) => (s % 1 < 0.5 ? -0.9 : -0.006) });
    const [{ sleepDrawA, unseenA }] = analysed(log([nap, wake, nap])).stands;
    expect(sleepDrawA?.value).toBe(0);
    expect(unseenA).toBeCloseTo(0.006, 9);
  });

  it('hides it between the pulses of a lamp too', () => {
    const lamp = (s: number) => 0.02 + (s % 4 < 0.1 - 1e-9 ? 0.9 : 0);
    const block = log([draw(lamp, 4 * HOUR, 0.1)]);
    block.i.forEach((amps, k) => {
      block.i[k] = swallow(0.2)(amps);
    });
    const [{ sleepDrawA, unseenA }] = analysed(block).stands;
    expect(sleepDrawA?.value).toBeGreaterThan(0.01);
    expect(unseenA).toBeGreaterThan(0.3);
    expect(sleepDrawA?.u).toBeGreaterThan(0.3 / Math.sqrt(3));
  });

  it('hides up to what no vehicle asleep draws where the log has no other number', () => {
    const { stands } = analysed(log([stretch(8 * HOUR, 1, { v: noisy(12.5, 0.002), i: 0 })]));
    expect(stands[0].unseenA).toBe(1.5);
  });
});

describe('one number other than nought', () => {
  it('leaves half of it open where it is the only one of the log: no step is larger', () => {
    const [stand] = analysed(log([stretch(8 * HOUR, 1, { v: noisy(12.5, 0.002), i: -0.04 })])).stands;
    expect(stand.unseenA).toBeCloseTo(0.02, 9);
    expect(stand.sleepDrawA?.u).toBeGreaterThan(0.02 / Math.sqrt(3));
  });

  it('leaves a step open that the log shows elsewhere', () => {
    const { sleepDrawA, unseenA, stepA } = night(0.04, (amps) => Math.round(amps * 100) / 100);
    expect(stepA).toBeCloseTo(0.01, 6);
    expect(sleepDrawA?.value).toBeCloseTo(0.04, 6);
    expect(unseenA).toBe(0);
    expect(sleepDrawA?.u).toBeGreaterThan(0.005 / Math.sqrt(3));
  });
});

it('readings that differ hide nothing', () => {
  expect(night(0.02, (amps) => amps).unseenA).toBe(0);
  const around = stretch(8 * HOUR, 0.1, { v: 12.5, i: (s) => 0.002 * Math.sin(7 * s) });
  expect(analysed(log([around])).stands[0].unseenA).toBe(0);
  const oneSided = stretch(8 * HOUR, 0.1, { v: 12.5, i: (s) => Math.max(0, 0.002 * Math.sin(7 * s)) });
  expect(analysed(log([oneSided])).stands[0].unseenA).toBe(0);
});
