/** How well a segment goes with each state: orders of what is likely, not the figures. */
import { describe, expect, it } from 'vitest';
import { type Levels, learnLevels, penaltyOf, restOf, seenIn } from '../../../src/analysis/states/evidence.ts';
import { STATES, type State } from '../../../src/analysis/states/state.ts';
import { cranking, running, segment } from './segment-like.ts';

const FLOOR = { amps: 0.002, volts: 0.001 };
const KNOWN = { floor: FLOOR, isCombustion: true, hasCurrent: true, showsStarts: true };
const DAY = [
  segment({ seconds: 28_800 }),
  segment({ seconds: 20, drawA: 8, roughA: 0.05 }),
  { ...cranking(), started: 4 },
  running({ seconds: 1800, isSinceStart: true }),
  segment({ seconds: 300, drawA: 4 }),
  segment({ seconds: 28_800 }),
];
const LEVELS = learnLevels(DAY, KNOWN);
const likeliest = (one: ReturnType<typeof segment>, levels: Levels = LEVELS): State =>
  STATES.toSorted((a, b) => penaltyOf(a, one, levels) - penaltyOf(b, one, levels))[0];

describe('what is learnt of a vehicle', () => {
  it('is how restless it runs, and at which voltage', () => {
    expect(LEVELS.runningA).toBeCloseTo(0.8, 6);
    expect(LEVELS.runningV).toBeCloseTo(14.3, 6);
    expect(LEVELS.pausesS).toBe(0);
    expect(LEVELS.leavesQuiet).toBe(false);
  });

  it('is shown once the regulator has arrived, and not by what feeds later', () => {
    const began = [
      { ...cranking(), started: 4 },
      running({ seconds: 40, roughA: 0.2, volts: 13.5, isSinceStart: true }),
    ];
    const sun = running({ seconds: 7200, roughA: 0.1, isSinceStart: true });
    const { runningA, runningV } = learnLevels([...began, running({ seconds: 900, isSinceStart: true }), sun], KNOWN);
    expect([runningA, runningV]).toEqual([0.8, 14.3]);
    // A short trip shows what it has.
    expect(learnLevels([...began, segment()], KNOWN).runningA).toBeCloseTo(0.2, 6);
  });

  it('is how restless its draw is where the engine has charged nothing since its start', () => {
    const start = { ...cranking(), started: 5 };
    const on = { isOnSinceStart: true, drawA: 20, volts: 12.2 };
    const dead = [start, segment({ ...on, seconds: 900, roughA: 0.9 }), segment({ seconds: 3600 })];
    const levels = learnLevels([...DAY, ...dead], KNOWN);
    expect(levels.unchargedA).toBeCloseTo(0.9, 6);
    // A fan that runs on after a drive that charged shows nothing of that.
    expect(
      learnLevels([...DAY.slice(0, 4), segment({ ...on, seconds: 400, roughA: 0.4 })], KNOWN).unchargedA,
    ).toBeNaN();
    // A belt that breaks on the way: as lively as where nothing charges, though a third of what it is with a regulator at work.
    const broken = segment({ ...on, drawA: 25, seconds: 1000, roughA: 0.9 });
    const smart = { ...levels, runningA: 3.3 };
    expect(penaltyOf('parked', broken, smart)).toBeGreaterThan(3);
    expect(penaltyOf('parked', broken, { ...smart, unchargedA: Number.NaN })).toBeLessThan(2.5);
  });

  it('is nothing of a single row, whose change is that of its edge', () => {
    const minute = running({ seconds: 60, rows: 1, roughA: 7, roughV: 0.9 });
    expect(learnLevels([minute, running({ seconds: 60, rows: 1, roughA: 24 })], KNOWN).restless.amps).toBeNaN();
  });

  it('is nothing where no start is seen', () => {
    expect(learnLevels([segment()], KNOWN).runningA).toBeNaN();
  });
});

describe('the likeliest state', () => {
  it('of what feeds and is restless is a drive, of what feeds as steadily as the sensor tells a charger', () => {
    expect(likeliest(running({ seconds: 1800 }))).toBe('driving');
    expect(likeliest(running({ seconds: 7200, roughA: 0.002, roughV: 0.001 }))).toBe('on-charger');
  });

  it('of a small draw is parked, of a crank that started a drive', () => {
    expect(likeliest(segment({ seconds: 7200 }))).toBe('parked');
    expect(penaltyOf('driving', { ...cranking(), started: 4 }, LEVELS)).toBe(0);
    expect(penaltyOf('parked', { ...cranking(), started: 4 }, LEVELS)).toBe(4);
    expect(penaltyOf('parked', { ...cranking(), started: -2.5 }, LEVELS)).toBe(0);
  });

  it('of a vehicle without an engine is never a shop’s charger', () => {
    const electric = { ...LEVELS, isCombustion: false };
    expect(likeliest(running({ seconds: 7200, roughA: 0.002, roughV: 0.001 }), electric)).toBe('top-up');
  });
});

it('restlessness is −1 for a voltage that stands still and 0 where nothing is known', () => {
  expect(restOf(running({ roughA: 0, roughV: 0 }), LEVELS)).toBe(-1);
  expect(restOf(running({ roughA: 3, roughV: 0.1 }), LEVELS)).toBeGreaterThan(0.5);
  expect(restOf(segment({ roughA: Number.NaN, roughV: Number.NaN }), LEVELS)).toBe(0);
});

it('rows far apart show less of what is short', () => {
  expect([seenIn(10, 10), seenIn(0, 10), seenIn(90, 10)]).toEqual([0.5, 1, 0.1]);
});

it('hours of feeding without a consumer that is switched are no drive of an electric vehicle', () => {
  const electric = { ...LEVELS, isCombustion: false };
  const drives = (told: Parameters<typeof running>[0]) =>
    penaltyOf('driving', running({ drawA: -0.3, ...told }), electric) -
    penaltyOf('top-up', running({ drawA: -0.3, ...told }), electric);
  const plugged = { seconds: 10_800, roughA: 0.02, roughV: 0.003 };
  expect(drives(plugged)).toBeGreaterThan(drives({ ...plugged, feedsConsumers: true }) + 0.5);
});

it('an electric vehicle whose converter rests is not ready to drive, unless its consumers go on as restlessly', () => {
  const electric = { ...LEVELS, isCombustion: false, restless: { amps: 4, volts: 0.02 } };
  const stop = segment({ seconds: 200, drawA: 7.5, roughA: 0.09, againS: 200 });
  expect(penaltyOf('driving', stop, electric)).toBeGreaterThan(5);
  expect(penaltyOf('driving', { ...stop, roughA: 3 }, electric)).toBeLessThan(1);
  // A converter that fails on the way: brake lamps and steering go on.
  expect(penaltyOf('driving', { ...stop, drawA: 18, roughA: 0.24 }, electric)).toBeLessThan(1);
  expect(penaltyOf('driving', stop, { ...electric, isCombustion: true })).toBeLessThan(2);
});

it('a fan that runs on after key-off draws much, but far more steadily than this vehicle while it runs', () => {
  const levels = { ...LEVELS, runningA: 3, lettingGoA: 1 };
  const fan = segment({ seconds: 350, drawA: 25, roughA: 0.44, volts: 12.4 });
  expect(penaltyOf('parked', fan, levels)).toBeLessThan(0.1);
  // Without a start nothing says how restless it is: then a draw of that size is hardly left on.
  expect(penaltyOf('parked', fan, { ...LEVELS, runningA: Number.NaN })).toBeGreaterThan(0.5);
});
