import { describe, expect, it } from 'vitest';
import type { Channel } from '../../../src/manifest/session.ts';
import { analysed, log, noisy, type Stretch, stretch } from '../blocks.ts';
import { asleep, charger, drive, settling } from '../vehicle.ts';

const HOUR = 3600;
const CHANNELS: readonly Channel[] = [
  { name: 'in1', label: 'Above', unit: 'V', activeAboveV: 6, measures: 'supply' },
  { name: 'in2', label: 'Below', unit: 'V', activeBelowV: 3, measures: 'supply' },
  { name: 'in3', label: 'Half', unit: 'V', measures: 'supply' },
];

/** An hour asleep with the channels at rest: low, high, low. */
const nap = stretch(HOUR, 1, { v: 12.5, i: noisy(-0.02, 0.002), ch: [0.1, 12.4, 0.1] });
const wake = (seconds: number, ch: readonly number[]) => stretch(seconds, 1, { v: 12.4, i: noisy(-3, 0.02), ch });
const wakesOf = (stretches: readonly Stretch[]) => analysed(log(stretches), { channels: CHANNELS }).wakes;

describe('the channels of a wake', () => {
  it('are those beyond their threshold in it, and no others', () => {
    const found = wakesOf([
      nap,
      wake(60, [12.3, 12.4, 0.1]),
      nap,
      wake(60, [0.1, 0.5, 0.1]),
      nap,
      wake(60, [0.1, 12.4, 11.9]),
      nap,
      wake(60, [5.9, 3.1, 6.1]),
      nap,
    ]);
    expect(found.map(({ channels }) => channels)).toEqual([['Above'], ['Below'], ['Half'], []]);
  });

  it('are seen also where the circuit was on for a single row', () => {
    const blink = stretch(60, 1, { v: 12.4, i: -3, ch: [(s) => (s === 30 ? 12 : 0.1), 12.4, 0.1] });
    expect(wakesOf([nap, blink, nap]).map(({ channels }) => channels)).toEqual([['Above']]);
  });
});

describe('a wake', () => {
  it('has its peak and charge above the sleeping level', () => {
    const peak = stretch(60, 1, { v: 12.4, i: (s) => (s === 20 ? -9.02 : -3.02), ch: [0, 12, 0] });
    const [found, ...more] = wakesOf([nap, peak, nap]);
    expect(more).toEqual([]);
    expect(found.peakA).toBeCloseTo(9, 2);
    expect(found.chargeAh).toBeCloseTo((3 * 60 + 6) / 3600, 3);
    expect(Math.abs(found.seconds - 60)).toBeLessThanOrEqual(2);
  });

  it('is none where a coarse sensor flickers between two of its steps, but a longer or larger one is', () => {
    const coarse = (amps: (n: number) => number) => stretch(2 * HOUR, 1, { v: 12.5, i: (_, n) => 0.05 * amps(n) });
    const flicker = coarse((n) => (n % 500 === 250 ? -1 : 0));
    const { resolution, wakes } = analysed(log([flicker]));
    expect(resolution.i).toBeCloseTo(0.05, 9);
    expect(wakes).toEqual([]);
    expect(analysed(log([coarse((n) => (n % 500 >= 250 && n % 500 < 290 ? -1 : 0))])).wakes).not.toEqual([]);
    expect(analysed(log([coarse((n) => (n % 500 === 250 ? -20 : 0)), flicker])).wakes).not.toEqual([]);
  });

  it('is none of a noisy sensor’s making', () => {
    const noise = stretch(24 * HOUR, 1, { v: 12.5, i: noisy(-0.03, 0.2) });
    const call = stretch(60, 1, { v: 12.4, i: noisy(-4, 0.2) });
    expect(analysed(log([noise])).wakes).toEqual([]);
    expect(analysed(log([noise, call, noise])).wakes).toHaveLength(1);
  });

  it('is none at the end of the log, where nobody knows how it ends', () => {
    expect(wakesOf([nap, wake(60, [0, 12, 0])])).toEqual([]);
  });

  it('is none before the first sleep after key-off, nor before a drive', () => {
    const found = analysed(
      log([asleep(HOUR, 1), ...drive(600, 1, 0.05), ...settling(1), asleep(HOUR, 1), ...drive(600, 1, 0.05)]),
    );
    expect(found.wakes).toEqual([]);
  });

  it('is none while a charger is on, nor right after it', () => {
    expect(analysed(log([asleep(HOUR, 1), charger(HOUR, 1), asleep(HOUR, 1)])).wakes).toEqual([]);
  });

  it('is one where two follow within seconds, two where sleep lies between', () => {
    const short = stretch(10, 1, { v: 12.5, i: -0.02, ch: [0, 12, 0] });
    const long = stretch(120, 1, { v: 12.5, i: -0.02, ch: [0, 12, 0] });
    const on = wake(30, [0, 12, 0]);
    expect(wakesOf([nap, on, short, on, nap])).toHaveLength(1);
    expect(wakesOf([nap, on, long, on, nap])).toHaveLength(2);
  });
});
