/** Dips and draws that are cranks, and those that are not. Figures: common practice, no source. */
import { describe, expect, it } from 'vitest';
import { isCrank, isSeenWhole, isSteady, type Shape } from '../../../src/analysis/cranks/is-crank.ts';
import type { Row } from '../../../src/analysis/cranks/raw-crank.ts';

const VAN = { scale: 1, chargedV: 13.2, strict: false };
const START: Shape = {
  voltsBefore: 12.6,
  voltsMin: 10.1,
  ampsPeak: 450,
  seconds: 1,
  step: 0.1,
  recovered: true,
  charges: true,
  steady: false,
};
const like = (other: Partial<Shape>, rules = VAN) => isCrank({ ...START, ...other }, rules);

describe('with current', () => {
  it('a start is one, and so is an attempt that draws as much', () => {
    expect(like({})).toBe(true);
    expect(like({ recovered: false, charges: false })).toBe(true);
  });

  it.each<[string, Partial<Shape>]>([
    ['no dip at all', { voltsMin: 12.6 }],
    ['less than a starter draws, and nothing after it', { ampsPeak: 90, recovered: false, voltsMin: 11.4 }],
    [
      'what pulls an empty battery down for longer than a small starter',
      { ampsPeak: 90, recovered: false, seconds: 6 },
    ],
    ['steering while the engine runs', { voltsBefore: 14.1, voltsMin: 12.4, ampsPeak: 110 }],
    ['a switch that bounces', { seconds: 0.04, step: 0.01 }],
  ])('%s is none', (_, shape) => {
    expect(like(shape)).toBe(false);
  });

  it('a small starter on a small battery is one, though no generator takes over at once', () => {
    expect(like({ ampsPeak: 105, voltsBefore: 12.52, voltsMin: 10.58, recovered: false, seconds: 0.6 })).toBe(true);
  });

  it('beside a steady charger only a starter draws as much for as long', () => {
    const fed = { voltsBefore: 13.6, voltsMin: 12.0 };
    expect(like({ ...fed, steady: true })).toBe(true);
    expect(like({ ...fed, steady: true, seconds: 0.2 })).toBe(false);
    // Not steady, as a charger that follows loads, or a key that was just turned: less than a great draw is steering.
    expect(like({ ...fed, ampsPeak: 140 })).toBe(false);
    expect(like({ ...fed, ampsPeak: 290 })).toBe(true);
    expect(like({ ...fed, ampsPeak: 290, voltsMin: 12.9 })).toBe(false);
    expect(like({ ...fed, ampsPeak: 290, seconds: 8 })).toBe(false);
  });

  it('a hybrid’s must be deeper; one of 24 V twice as deep', () => {
    expect(like({ voltsMin: 11.8, ampsPeak: 200 }, { ...VAN, strict: true })).toBe(false);
    expect(like({}, { ...VAN, strict: true })).toBe(true);
    const truck = { scale: 2, chargedV: 26.4, strict: false };
    expect(like({ voltsBefore: 25.2, voltsMin: 24.5, recovered: false }, truck)).toBe(false);
    expect(like({ voltsBefore: 25.2, voltsMin: 24.3, recovered: false }, truck)).toBe(true);
  });
});

describe('by voltage alone', () => {
  const alone = { ampsPeak: null };
  it.each<[string, Partial<Shape>, boolean]>([
    ['a deep dip', { recovered: false, charges: false }, true],
    ['a small one behind which a generator charges', { voltsMin: 12.2 }, true],
    ['a small one without', { voltsMin: 12.2, recovered: false, charges: false }, false],
    ['one of a minute', { seconds: 60 }, false],
    ['one of a running engine’s supply', { voltsBefore: 14.1, voltsMin: 11.2 }, false],
  ])('%s: %s', (_, shape, expected) => {
    expect(like({ ...alone, ...shape })).toBe(expected);
  });

  const every = (step: number, n: number, but: readonly number[] = []): Row[] =>
    Array.from({ length: n }, (_, k) => [k * step, but.includes(k) ? Number.NaN : 12, Number.NaN, 20]);

  it('it must be seen from edge to edge', () => {
    expect(isSeenWhole(every(0.1, 60), 3, 3.8, 0.1)).toBe(true);
    expect(isSeenWhole(every(0.1, 60, [31, 32, 33, 34, 35]), 3, 3.8, 0.1)).toBe(false);
    expect(isSeenWhole(every(0.1, 60), 3, 5.95, 0.1)).toBe(false);
    expect(isSeenWhole(every(0.1, 60), 0.5, 3, 0.1)).toBe(false);
  });
});

it('a charger feeds steadily and a key draws steadily, an engine does neither', () => {
  const rows = (ripple: number, amps = 5): Row[] =>
    Array.from({ length: 40 }, (_, k) => [k * 0.1, 13.6 + (k % 2 ? ripple : 0), amps + (k % 2 ? 20 * ripple : 0), 20]);
  expect(isSteady(rows(0.001))).toBe(true);
  expect(isSteady(rows(0.001, -5))).toBe(true);
  expect(isSteady(rows(0.02))).toBe(false);
  expect(isSteady(rows(0.0001, 0))).toBe(false);
  expect(isSteady(rows(0.001).slice(0, 4))).toBe(false);
});
