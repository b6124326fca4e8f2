import fc from 'fast-check';
import { expect, it } from 'vitest';
import { createStepCounter } from '../../../src/analysis/tiles/steps.ts';

const counted = (steps: readonly number[]) => {
  const counter = createStepCounter();
  for (const step of steps) counter.add(step);
  return counter;
};

it('gives the step of a regular log exactly', () => {
  for (const step of [0.001, 0.02, 0.1, 1, 60, 600])
    expect(counted(Array(1000).fill(step)).median()).toBeCloseTo(step, 9);
});

it('comes within two per cent of the true median, whatever the steps', () => {
  fc.assert(
    fc.property(
      fc.array(fc.double({ min: 0.001, max: 5000, noNaN: true }), { minLength: 1, maxLength: 200 }),
      (steps) => {
        const sorted = [...steps].sort((a, b) => a - b);
        // Of an even count the lower of the two in the middle.
        const median = sorted[(sorted.length - 1) >> 1];
        expect(Math.abs(counted(steps).median() / median - 1)).toBeLessThan(0.02);
      },
    ),
  );
});

it('is not moved by a hole of days, nor by a burst of quick rows', () => {
  expect(counted([...Array(100).fill(1), 300_000]).median()).toBe(1);
  expect(counted([...Array(100).fill(10), ...Array(90).fill(0.01)]).median()).toBeCloseTo(10, 9);
});

it('gives 0 for a log of one row', () => {
  expect(counted([]).median()).toBe(0);
});
