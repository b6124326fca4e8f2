import { describe, expect, it } from 'vitest';
import { goesOn, movement, movementFacts } from '../../src/measures/movement.ts';
import { session, standing } from '../checks/analysis-fixture.ts';
import { withTiles } from '../checks/tile-story.ts';

/** Ten days parked: the draw as told by hours since the begin, the temperature as it is by day and night. */
function parked(drawA: (hours: number, celsius: number) => number) {
  const analysis = standing(240);
  const at = (t: number) => {
    const hours = (t - analysis.start) / 3600;
    const temp = 12 + 8 * Math.sin((2 * Math.PI * hours) / 24);
    return { v: 12.5, i: -drawA(hours, temp), temp };
  };
  return movement(withTiles(analysis, at, 600), session());
}

describe('a draw that moves', () => {
  it('creeps where it rises all along', () => {
    const { creep, warmth } = parked((hours) => 0.02 + 0.0002 * hours);
    expect(creep?.fromA).toBeCloseTo(0.02, 2);
    expect(creep?.toA).toBeCloseTo(0.068, 2);
    expect(warmth).toBeNull();
  });

  it('goes with the temperature where it does, and is no creep', () => {
    const { creep, warmth } = parked((_, celsius) => 0.02 + 0.002 * celsius);
    expect(creep).toBeNull();
    expect(warmth && warmth.warmA > warmth.coldA).toBe(true);
  });

  it('does neither where a load comes on and stays, or nothing is worth telling', () => {
    expect(parked((hours) => (hours < 120 ? 0.02 : 0.07)).creep).toBeNull();
    expect(parked(() => 0.02)).toEqual({ creep: null, warmth: null });
    expect(parked((hours) => 0.02 + 0.00001 * hours).creep).toBeNull();
  });
});

it('a later draw that is no more than it crept up to goes on with it', () => {
  const creep = { start: 0, end: 1e6, fromA: 0.02, toA: 0.07, chance: 0 };
  expect(goesOn(creep, { start: 1e6, drawA: 0.08 })).toBe(true);
  expect(goesOn(creep, { start: 1e6, drawA: 0.2 })).toBe(false);
  expect(goesOn({ ...creep, toA: 0.01 }, { start: 1e6, drawA: 0.01 })).toBe(false);
});

it('facts are nulls where nothing moves', () => {
  expect(movementFacts({ creep: null, warmth: null })).toMatchObject({
    creepT: null,
    creepsUp: false,
    withWarmth: false,
  });
});
