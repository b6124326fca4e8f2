import { expect, it } from 'vitest';
import { loadSteps, mostResistanceOhm } from '../../src/measures/load-steps.ts';
import { analysed, log, noisy, sessionWith, stretch } from '../analysis/blocks.ts';

const at = (v: number, amps: number, seconds = 600) =>
  stretch(seconds, 1, { v: noisy(v, 0.001, 2), i: noisy(-amps, 0.002) });
const stepsOf = (...stretches: readonly ReturnType<typeof at>[]) => loadSteps(analysed(log(stretches)), sessionWith());

it('a load that comes and goes shows in both, and matches', () => {
  const steps = stepsOf(at(12.6, 0.02), at(12.5, 5), at(12.6, 0.02));
  expect(steps.map(({ volts }) => Math.sign(volts))).toEqual([-1, 1]);
  for (const { shown, matched } of steps) expect([shown, matched]).toEqual([true, true]);
  expect(steps[0].amps).toBeCloseTo(-4.98, 1);
});

it('one whose current goes round the sensor shows in the voltage alone', () => {
  const steps = stepsOf(at(12.6, 0.02), at(12.4, 0.02), at(12.6, 0.02));
  expect(steps.length).toBe(2);
  expect(steps.every(({ matched }) => !matched)).toBe(true);
});

it('one reading there and back makes no load', () => {
  expect(stepsOf(at(12.6, 0.02), at(12.3, 0.02, 1), at(12.6, 0.02))).toEqual([]);
});

it('a small battery may show more resistance, a large one no less', () => {
  expect(mostResistanceOhm(sessionWith({ battery: { capacityAh: 35 } }))).toBeCloseTo(0.1, 12);
  expect(mostResistanceOhm(sessionWith({ battery: { capacityAh: 140 } }))).toBeCloseTo(0.05, 12);
});
