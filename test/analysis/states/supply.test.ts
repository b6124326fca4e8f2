import { expect, it } from 'vitest';
import { findLostSupply, isSupplyLost } from '../../../src/analysis/states/supply.ts';
import { session } from '../../checks/analysis-fixture.ts';
import { log, stretch, tilesOf } from '../blocks.ts';

it.each([
  [12, 2.9, true],
  [12, 3.1, false],
  [12, 19, false],
  [12, 20.5, true],
  [24, 5.9, true],
  [24, 7, false],
])('in a %i V system %f V come from no battery in use: %s', (systemV, volts, lost) => {
  expect(isSupplyLost(volts, systemV)).toBe(lost);
});

const on = (seconds: number) => stretch(seconds, 1, { v: 12.6, i: -0.02 });
const off = (seconds: number) => stretch(seconds, 1, { v: 0.1, i: 0 });

function lostSeconds(...stretches: readonly ReturnType<typeof on>[]) {
  const tiles = tilesOf(log(stretches));
  const lost = findLostSupply(tiles, session());
  return lost.reduce((sum, one, k) => sum + (one === 'disconnected' ? tiles.t1[k] - tiles.t0[k] : 0), 0);
}

it('finds the time without a battery, with the edges that hold part of the change', () => {
  expect(lostSeconds(on(600), off(120), on(600))).toBeGreaterThanOrEqual(120);
  expect(lostSeconds(on(600), off(120), on(600))).toBeLessThan(130);
  expect(lostSeconds(on(600))).toBe(0);
});

it('a terminal that is put on, and off again at once, was off all the time', () => {
  expect(lostSeconds(on(600), off(60), on(2), off(60), on(600))).toBeGreaterThanOrEqual(122);
});

it('knows nothing where there is neither voltage nor current', () => {
  const tiles = tilesOf(log([on(60), stretch(60, 1, { v: Number.NaN, temp: 20 }), on(60)]));
  expect(findLostSupply(tiles, session())).toContain('no-data');
});

const lithium = session({ battery: { chemistry: 'lfp' } });
const lithiumOff = (...stretches: readonly ReturnType<typeof on>[]) => {
  const tiles = tilesOf(log(stretches));
  const lost = findLostSupply(tiles, lithium);
  return lost.reduce((sum, one, k) => sum + (one === 'disconnected' ? tiles.t1[k] - tiles.t0[k] : 0), 0);
};
const held = (seconds: number, v: number, i = 0) => stretch(seconds, 1, { v, i });

it('an empty lithium battery into which nothing flows at a charging voltage is switched off', () => {
  const empty = held(600, 12.5, -0.3);
  expect(lithiumOff(empty, held(600, 13.9))).toBeGreaterThan(580);
  expect(lithiumOff(empty, off(300), held(900, 13.9), off(300), held(300, 4.2))).toBeGreaterThan(1780);
  // It takes amperes, it draws, or it is full: connected.
  expect(lithiumOff(empty, held(600, 13.9, 12))).toBe(0);
  expect(lithiumOff(empty, off(300), held(10, 13, -2), held(900, 13.5, -0.02))).toBeLessThan(320);
  expect(lithiumOff(held(600, 13.3, -0.02), held(600, 13.6, 0))).toBe(0);
});

it('a lead battery that floats takes next to nothing, and is connected', () => {
  expect(lostSeconds(held(600, 12.1, -0.3), held(600, 13.6, 0))).toBe(0);
});
