import { expect, it } from 'vitest';
import { resistanceOf } from '../../../src/analysis/cranks/crank-figures.ts';

// Two loads, 40 A at 12.30 V and 200 A at 11.50 V: 5.00 mΩ (method of IEC 60896-21, from memory; computed)
it('where the current does not change, the fall from rest to the plateau is taken, and a quarter of it left open', () => {
  const steady = Array.from({ length: 6 }, (_, k) => [k * 0.1, 11.5, -200, 20] as const);
  const found = resistanceOf(steady, steady, 12.3, -40);
  expect(found?.ohm).toBeCloseTo(0.005, 9);
  expect(found?.halfOhm).toBeCloseTo(0.00125, 9);
});

it('where it changes, the slope beside it is surer, and leaves less open', () => {
  const rippling = Array.from({ length: 40 }, (_, k) => {
    const amps = 200 + 20 * Math.sin(k);
    return [k * 0.02, 12.5 - 0.005 * amps, -amps, 20] as const;
  });
  const found = resistanceOf(rippling, rippling, 12.3, -40);
  expect(found?.ohm).toBeCloseTo(0.005, 6);
  expect(found?.halfOhm).toBeLessThan(0.0001);
});
