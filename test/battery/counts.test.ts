import { expect, it } from 'vitest';
import { expectedToSee, meetAtLeast, poissonAtMost, poissonBounds } from '../../src/battery/counts.ts';

it('knows the certain cases', () => {
  expect(poissonAtMost(-1, 2)).toBe(0);
  expect(poissonAtMost(3, 0)).toBe(1);
});

it('adds up the probabilities of single counts', () => {
  expect(poissonAtMost(2, 1.5)).toBeCloseTo(Math.exp(-1.5) * (1 + 1.5 + 1.125), 12);
});

it('holds for counts whose single terms are too small for a double', () => {
  expect(poissonAtMost(2000, 2000)).toBeCloseTo(0.506, 3);
});

it('has the bounds leave the asked share on either side', () => {
  const poisson = poissonBounds(7, 0.9);
  expect(poissonAtMost(7, poisson.high)).toBeCloseTo(0.05, 9);
  expect(poissonAtMost(6, poisson.low)).toBeCloseTo(0.95, 9);
});

it('sees one event with a confidence of 1 − e^−m', () => {
  for (const confidence of [0.5, 0.9, 0.99, 0.999999]) {
    expect(expectedToSee(1, confidence)).toBeCloseTo(-Math.log(1 - confidence), 8);
  }
});

it('ends, with no number, where it is asked about none', () => {
  expect(expectedToSee(Number.NaN, 0.95)).toBeNaN();
});

it('counts how two marks meet by luck', () => {
  // Of the 70 ways to choose four of eight one is whole, and 16 more meet on three.
  expect(meetAtLeast(4, 4, 4, 8)).toBeCloseTo(1 / 70, 12);
  expect(meetAtLeast(3, 4, 4, 8)).toBeCloseTo(17 / 70, 12);
  expect(meetAtLeast(0, 4, 4, 8)).toBeCloseTo(1, 12);
  expect(meetAtLeast(5, 5, 8, 8)).toBeCloseTo(1, 12);
  expect(meetAtLeast(2, 3, 7, 8)).toBeCloseTo(1, 12);
});
