/** What follows a segment, and what that says of it. */
import { describe, expect, it } from 'vitest';
import type { RawCrank } from '../../../src/analysis/cranks/raw-crank.ts';
import { lookAhead } from '../../../src/analysis/states/look-ahead.ts';
import type { BareSegment } from '../../../src/analysis/states/segments.ts';
import { cranking, running, segment } from './segment-like.ts';

const FLOOR = { amps: 0.001, volts: 0.001 };
const crank = (at: number, recovered: boolean): RawCrank => ({
  at,
  seconds: 1,
  rows: 10,
  voltsBefore: 12.5,
  voltsMin: 10,
  plateau: null,
  ampsPeak: 400,
  ampsMean: 180,
  isFlat: false,
  ampsBefore: 5,
  resistance: null,
  temperatureC: 15,
  sign: -1,
  recovered,
  wave: { t: new Float64Array(), v: new Float64Array(), i: new Float64Array() },
});
const ahead = (segments: readonly BareSegment[], ...cranks: readonly RawCrank[]) => lookAhead(segments, cranks, FLOOR);

it('tells what was drawn for long before something fed, unless the vehicle was opened meanwhile', () => {
  const before = (...segments: Partial<BareSegment>[]) =>
    ahead([...segments.map((one) => segment(one)), running()]).at(-1)?.drawnBeforeA;
  expect(before({ seconds: 4000, drawA: 2.1 })).toBe(2.1);
  expect(before({ seconds: 4000, drawA: 2.1 }, { seconds: 5, drawA: 9 })).toBe(2.1);
  expect(before({ seconds: 4000, drawA: 0.02 }, { seconds: 60, drawA: 5 })).toBeNaN();
  expect(before({ seconds: 300, drawA: 2.1 })).toBeNaN();
});

describe('how long until something feeds', () => {
  it('adds up to the next that does, or to the next start', () => {
    const found = ahead([segment({ seconds: 100 }), segment({ seconds: 50 }), running()]);
    expect(found.map(({ againS }) => againS)).toEqual([150, 50, 0]);
    expect(ahead([segment({ seconds: 100 }), cranking()], crank(100, true))[0].againS).toBe(100);
  });

  it('is not known beyond a hole, and at the end of the log', () => {
    expect(ahead([segment({ seconds: 100 }), running({ holeS: 60 })])[0].againS).toBeNull();
    expect(ahead([running(), segment()])[1].againS).toBeNull();
    expect(ahead([segment({ seconds: 100 }), segment({ lost: 'no-data' }), running()])[0].againS).toBeNull();
  });
});

describe('a crank', () => {
  it('started the engine where a generator that waits feeds after a draw that never ended', () => {
    const started = (seconds: number, drawA: number) =>
      ahead([cranking(), segment({ seconds, drawA }), running()], crank(0, false))[0].started;
    expect(started(40, 9)).toBeGreaterThan(0);
    expect(started(40, 0.05)).toBe(0);
    expect(started(200, 0.9)).toBe(0);
  });

  it('started an engine whose generator nearly carries all, where what is left is far livelier than with the key alone', () => {
    const started = (roughA: number) =>
      ahead(
        [
          segment({ seconds: 20, drawA: 7, roughA: 0.003 }),
          cranking(),
          segment({ seconds: 900, drawA: 2.8, roughA }),
          segment({ seconds: 500, drawA: 0.3, roughA: 0.002 }),
        ],
        crank(20, false),
      )[1].started;
    expect(started(0.06)).toBeGreaterThan(0);
    expect(started(0.004)).toBe(0);
    // Hazard lights of who waits for help.
    expect(started(1.5)).toBe(0);
  });

  it('started the engine where the voltage rises, and did not where another follows at once', () => {
    expect(ahead([cranking(), running()], crank(0, true))[0].started).toBeGreaterThan(0);
    const tried = ahead(
      [cranking(0), segment({ seconds: 20, drawA: 8 }), cranking(1), running()],
      crank(0, true),
      crank(21, true),
    );
    expect(tried[0].started).toBeLessThan(0);
    expect(tried[2].started).toBeGreaterThan(0);
  });

  it('says nothing by itself where the voltage does not rise', () => {
    expect(ahead([cranking(), segment({ drawA: 8 })], crank(0, false))[0].started).toBe(0);
  });

  it('started an engine that charges nothing where far more is asked for minutes than by the key alone', () => {
    const started = (drawA: number, seconds: number) =>
      ahead(
        [segment({ seconds: 20, drawA: 8 }), cranking(), segment({ drawA, seconds, roughA: 0.3 })],
        crank(20, false),
      )[1].started;
    expect(started(20, 600)).toBeGreaterThan(0);
    expect(started(20, 120)).toBe(0);
    expect(started(2, 600)).toBe(0);
  });

  it('started one whose weak generator nearly carries all: little is drawn, restlessly, and more, calmly, once it stops', () => {
    const day = (afterA: number, roughA: number) =>
      ahead(
        [
          segment({ seconds: 20, drawA: 8, roughA: 0.01 }),
          cranking(),
          segment({ drawA: 0.7, seconds: 900, roughA: 0.2 }),
          segment({ drawA: afterA, seconds: 60, roughA }),
        ],
        crank(20, false),
      );
    expect(day(4, 0.01)[1].started).toBeGreaterThan(0);
    // A key that is left on after a start in vain, until somebody turns it.
    expect(day(0.4, 0.01)[1].started).toBe(0);
    expect(day(4, 0.2)[1].started).toBe(0);
  });
});

describe('fed since a start', () => {
  it('lasts over the moment that a generator takes, and ends with a pause or a hole', () => {
    const isSince = (pauseS: number, holeS = 0) =>
      ahead([cranking(), segment({ seconds: pauseS, drawA: 8 }), running({ holeS })], crank(0, true))[2].isSinceStart;
    expect(isSince(10)).toBe(true);
    expect(isSince(40)).toBe(false);
    expect(isSince(10, 5)).toBe(false);
    expect(ahead([running()])[0].isSinceStart).toBe(false);
  });
});

it('what goes up and down in steps all around is switched; a staircase down is not', () => {
  const of = (draws: readonly number[]) =>
    ahead(draws.map((drawA) => segment({ drawA, seconds: 40 })))[Math.floor(draws.length / 2)].isSwitched;
  expect(of([8, 14, 8, 14, 8, 14, 8])).toBe(true);
  expect(of([20, 14, 10, 7, 4, 1, 0.1])).toBe(false);
  expect(of([8, 8.5, 8, 8.5, 8, 8.5, 8])).toBe(false);
});

describe('current in and out by turns', () => {
  const burst = () => running({ drawA: -60, seconds: 30 });
  const out = () => segment({ drawA: 25, seconds: 60, volts: 12.5 });
  const isMarked = (segments: readonly BareSegment[], ...cranks: readonly RawCrank[]) =>
    ahead(segments, ...cranks).map(({ isByTurns }) => isByTurns);

  it('is that of a generator which is let go where much of it comes again and again', () => {
    expect(isMarked([burst(), out(), burst(), out(), burst(), out(), burst(), out()])).toEqual([
      ...new Array(7).fill(true),
      false,
    ]);
    expect(isMarked([burst(), out(), burst()])).toEqual([false, false, false]);
    expect(isMarked([burst(), out(), burst(), segment({ holeS: 60 }), burst(), out(), burst()])).not.toContain(true);
  });

  it('is so with little of it only since a start', () => {
    const little = () => running({ drawA: -1, seconds: 30 });
    const turns = Array.from({ length: 5 }, () => [little(), segment({ drawA: 3, seconds: 60 })]).flat();
    expect(isMarked(turns)).not.toContain(true);
    expect(isMarked([cranking(), ...turns], crank(0, true)).filter(Boolean)).toHaveLength(9);
  });
});
