/** What it costs to go from one state to another: sound orders of what is likely, not the figures themselves. */
import { describe, expect, it } from 'vitest';
import type { Levels } from '../../../src/analysis/states/evidence.ts';
import { type Border, beginCost, moveCost } from '../../../src/analysis/states/moves.ts';
import type { State } from '../../../src/analysis/states/state.ts';
import { running, segment } from './segment-like.ts';

const LEVELS: Levels = {
  floor: { amps: 0.001, volts: 0.001 },
  runningA: 0.8,
  lettingGoA: Number.NaN,
  unchargedA: Number.NaN,
  runningV: 14.3,
  restless: { amps: 0.8, volts: 0.03 },
  calmFedA: Number.NaN,
  quietA: 0.3,
  goneA: 0.05,
  leavesQuiet: false,
  pausesS: 0,
  isCombustion: true,
  hasCurrent: true,
  showsStarts: true,
};
const border = (told: Partial<Border> = {}): Border => ({
  before: segment({ drawA: 8, seconds: 20 }),
  after: running(),
  isStart: false,
  isDip: false,
  drawBeforeA: 8,
  drawAfterA: 4,
  drawLaterA: 3,
  unseenStart: 9,
  levels: LEVELS,
  ...told,
});
const cost = (from: State, to: State, told: Partial<Border> = {}) => moveCost(from, to, border(told));

describe('into a drive', () => {
  it('a start costs nothing where it is seen, and much where it should have been', () => {
    expect(cost('key-on', 'driving', { isStart: true })).toBe(0);
    expect(cost('key-on', 'driving')).toBeGreaterThanOrEqual(9);
    expect(cost('key-on', 'driving', { isDip: true })).toBeLessThan(1);
  });

  it('nobody drives out of sleep without opening the vehicle, unless rows are too far apart to show it', () => {
    const asleep = { isDip: true, drawBeforeA: 0.02 };
    const quick = cost('parked', 'driving', asleep);
    const slow = { before: segment({ stepS: 60 }), after: running({ stepS: 60 }) };
    expect(quick).toBeGreaterThan(2);
    expect(cost('parked', 'driving', { ...asleep, ...slow })).toBeLessThan(quick / 3);
  });
});

it('no drive begins where nothing feeds and no more is drawn than before', () => {
  const after = (drawA: number) => ({ before: segment({ drawA: 4, seconds: 60 }), after: segment({ drawA }) });
  expect(cost('parked', 'driving', after(3.5))).toBeGreaterThan(cost('parked', 'driving', after(9)));
});

describe('out of a drive', () => {
  const off = { before: running(), after: segment({ drawA: 4 }) };

  it('a vehicle that draws amperes was left; one that draws nothing was not driven', () => {
    expect(cost('driving', 'parked', { ...off, drawAfterA: 4 })).toBe(2);
    expect(cost('driving', 'parked', { ...off, drawAfterA: 0.02, drawLaterA: 0.02 })).toBeGreaterThan(4);
    const old = { ...LEVELS, leavesQuiet: true };
    expect(cost('driving', 'parked', { ...off, drawAfterA: 0.02, levels: old })).toBe(2.5);
  });

  it('it does not end where charging comes back as it always does', () => {
    const pause = { before: running(), after: segment({ drawA: 8, againS: 60 }), levels: { ...LEVELS, pausesS: 100 } };
    expect(cost('driving', 'parked', pause)).toBeGreaterThan(cost('driving', 'parked', { ...pause, levels: LEVELS }));
    expect(cost('driving', 'driving', pause)).toBe(0);
  });

  it('going on costs where the voltage collapses for good', () => {
    expect(cost('driving', 'driving', off)).toBe(2);
    expect(cost('driving', 'driving', { ...off, after: segment({ drawA: 4, againS: 30 }) })).toBe(0);
  });
});

describe('parked', () => {
  it('draws that rise again and again are switched on by somebody', () => {
    const rises = { before: segment({ drawA: 5 }), after: segment({ drawA: 10 }) };
    expect(cost('parked', 'parked', rises)).toBeGreaterThan(0);
    expect(cost('parked', 'parked', { ...rises, after: segment({ drawA: 6 }) })).toBe(0);
    expect(cost('parked', 'parked', { ...rises, after: segment({ drawA: 10, againS: 20 }) })).toBe(0);
  });

  it('a charger begins with feeding, and no starter before it', () => {
    const plain = { drawBeforeA: 0.02 };
    expect(cost('parked', 'on-charger', plain)).toBe(2);
    expect(cost('parked', 'on-charger', { ...plain, isDip: true })).toBe(5);
    expect(cost('parked', 'on-charger', { ...plain, after: segment() })).toBe(5);
  });
});

it('behind a long hole anything may have happened', () => {
  const after = running({ holeS: 3600 });
  expect(cost('parked', 'driving', { after, drawBeforeA: 0.02 })).toBe(3);
  expect(cost('driving', 'driving', { before: running(), after: segment({ holeS: 3600 }) })).toBe(0);
});

it('a log begins parked before anything else, and without current not on a charger', () => {
  const states: State[] = ['key-on', 'driving', 'on-charger', 'top-up', 'unknown'];
  for (const state of states) expect(beginCost(state, LEVELS)).toBeGreaterThan(beginCost('parked', LEVELS));
  const alone = { ...LEVELS, hasCurrent: false };
  expect(beginCost('on-charger', alone)).toBeGreaterThan(beginCost('unknown', alone));
  expect(beginCost('driving', alone)).toBeLessThan(beginCost('driving', { ...alone, showsStarts: false }));
});
