/** A battery that loses within one stand far more than is drawn. Charges by voltage: US Army TM 5-3805-262-20, p. 5-142. */
import { expect, test } from 'vitest';
import { batteryState } from '../../src/measures/battery-state.ts';
import { analysed, log, sessionWith, stretch } from '../analysis/blocks.ts';

const DAY_S = 86_400;
/** A stand that falls evenly from one voltage to another. */
const state = (days: number, fromV: number, toV: number, drawA = 0.018, temp: number | null = 15) => {
  const v = (s: number) => fromV + ((toV - fromV) * s) / (days * DAY_S);
  const courses = { v, i: -drawA, ...(temp === null ? {} : { temp }) };
  return batteryState(analysed(log([stretch(days * DAY_S, 30, courses)])), sessionWith());
};

test('six days that lose a fifth of the charge at 18 mA: it does not hold it', () => {
  const told = state(6, 12.55, 12.36);
  expect(told.state).toBe('not-held');
  // 0.432 Ah a day of 70 Ah are 0.6 %; it loses some 3 % a day besides.
  expect(told.takenShare).toBeLessThan(0.04);
  expect(told.lossPerDay).toBeGreaterThan(0.02);
  expect(told.fellFrom?.charge).toBeGreaterThan(0.8);
});

test('what the draw explains, what is left of surface charge, and too short a stand are no such loss', () => {
  expect(state(6, 12.55, 12.36, 0.1).state).toBeNull();
  expect(state(6, 12.55, 12.48).state).toBeNull();
  expect(state(3, 12.55, 12.44).state).toBeNull();
});

test('a worn battery that loses more of its rating than is drawn, most of it by the draw, is not said to empty itself', () => {
  // 0.28 A for four days are 27 Ah, two fifths of 70 Ah; of a battery that holds 60 % of that, two thirds.
  expect(state(4, 12.62, 12.02, 0.28).state).toBeNull();
  expect(state(4, 12.62, 12.02, 0.05).state).toBe('not-held');
});

test('without a temperature a small fall may be the weather’s', () => {
  expect(state(6, 12.55, 12.385).state).toBe('not-held');
  expect(state(6, 12.55, 12.385, 0.018, null).state).toBeNull();
});
