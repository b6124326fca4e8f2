/** Starts in a log of voltage alone, from a meter that reads a volt less than the battery has. Figures: common practice, no source. */
import { describe, expect, it } from 'vitest';
import { createLiftWatch, type Lift } from '../../../src/analysis/cranks/lift.ts';
import { analysed, log, noisy, type Stretch, stretch } from '../blocks.ts';

const STEP_S = 0.07;
/** A supply in steps of 0.1 V. */
const at = (v: number, seconds: number, scatter = 0) =>
  stretch(seconds, STEP_S, { v: (s, n) => Math.round(10 * noisyAt(v, scatter)(s, n)) / 10 });
const noisyAt = (v: number, scatter: number) => {
  const course = noisy(v, scatter);
  return (s: number, n: number) => (typeof course === 'function' ? course(s, n) : course);
};
const rests = (seconds: number) => at(11.4, seconds);
const starts = [at(8.6, 0.2), at(9.8, 1.2)];
const runs = (seconds: number) => at(12.9, seconds, 0.1);
/** What a fan's inrush makes of a running engine's supply. */
const dips = [at(11.2, 0.6), at(11.9, 0.8)];
const read = (...stretches: readonly Stretch[]) => analysed(log(stretches));
const drivenS = (made: ReturnType<typeof read>) => made.drives.reduce((sum, { start, end }) => sum + end - start, 0);

describe('a meter that reads a volt less', () => {
  const drive = [...starts, runs(120), ...dips, runs(120), ...dips, runs(60)];
  it('has the start, the drive, and no crank in the drive', () => {
    const made = read(rests(60), ...drive, rests(120));
    expect(made.cranks).toHaveLength(1);
    expect(made.cranks[0].started).toBe(true);
    expect(Math.abs(drivenS(made) - 300)).toBeLessThan(15);
  });

  it('has the second start as well, also soon after the engine stopped', () => {
    const made = read(rests(60), ...drive, rests(20), ...drive, rests(120));
    expect(made.cranks).toHaveLength(2);
    expect(Math.abs(drivenS(made) - 600)).toBeLessThan(30);
  });

  it('an attempt after which the voltage only comes back makes no drive', () => {
    const made = read(rests(60), ...starts, rests(20), ...starts, rests(120));
    expect(made.cranks.map(({ started }) => started)).toEqual([false, false]);
    expect(made.drives).toEqual([]);
  });

  it('a supply that is lost at the turn of the key and comes back slowly hides no start', () => {
    const back = stretch(2, STEP_S, { v: (s) => 11.4 - 10 * Math.exp(-s / 0.5) });
    expect(read(rests(60), at(0.4, 1), back, ...starts, runs(120)).cranks).toHaveLength(1);
  });
});

it('a running engine whose supply comes to the charging voltage and falls short of it by turns is not started by that', () => {
  const hovers = stretch(120, STEP_S, { v: (s) => (Math.floor(s / 2) % 2 ? 13.2 : 13.1) });
  const dip = at(12.6, 0.5);
  expect(read(hovers, dip, hovers, dip, hovers).cranks).toEqual([]);
});

describe('what a start lifts the voltage to', () => {
  const START = { at: 60, seconds: 1.5, voltsBefore: 11.4, voltsMin: 8.6, recovered: false };
  function watched(scale: number, after: number, restV = 11.4) {
    const watch = createLiftWatch(scale);
    let found: Lift | null = null;
    for (let t = 0; t < 60; t++) watch.take(t, scale * restV, true);
    watch.started({ ...START, voltsBefore: scale * restV, voltsMin: scale * 8.6 });
    watch.onLift = (lift) => {
      found = lift;
    };
    for (let t = 62; t < 120; t++) watch.take(t, scale * after, true);
    return { watch, found: found as Lift | null };
  }

  it.each([1, 2])('is known once it has kept it, at %d × 12 V', (scale) => {
    const { found } = watched(scale, 12.9);
    expect(found?.restV).toBeCloseTo(scale * 11.4, 6);
    expect(found?.toV).toBeCloseTo(scale * 12.9, 1);
  });

  it('stays the highest that the start led to, though the voltage falls and is lifted again to less', () => {
    const { watch, found } = watched(1, 14);
    for (let t = 120; t < 180; t++) watch.take(t, 11.5, true);
    for (let t = 180; t < 240; t++) watch.take(t, 12.3, true);
    expect(found?.toV).toBeCloseTo(14, 1);
    let again = 0;
    watch.onLift = () => again++;
    for (let t = 240; t < 300; t++) watch.take(t, 12.9, true);
    expect(again).toBe(0);
  });

  it('is none where the battery only recovers', () => {
    expect(watched(1, 11.7).found).toBeNull();
  });

  it('from then on only as deep a dip is a crank', () => {
    const { watch } = watched(1, 12.9);
    const dip = { at: 120, seconds: 1, voltsBefore: 12.9, recovered: false };
    expect(watch.isRunnings({ ...dip, voltsMin: 11.2 })).toBe(true);
    expect(watch.isRunnings({ ...dip, voltsMin: 9.2 })).toBe(false);
    expect(watch.isRunnings({ ...dip, voltsBefore: 11.5, voltsMin: 10.5 })).toBe(false);
    watch.forget();
    expect(watch.isRunnings({ ...dip, voltsMin: 11.2 })).toBe(false);
  });
});
