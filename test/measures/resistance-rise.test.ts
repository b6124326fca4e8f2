import { expect, it } from 'vitest';
import { resistanceRise } from '../../src/measures/resistance-rise.ts';
import type { MeasuredCrank } from '../../src/measures/starter.ts';

const crank = (ohm: number, temperatureC: number | null) =>
  ({ resistanceOhm: { value: ohm, u: 0 }, temperatureC }) as MeasuredCrank;

it('says nothing of fewer than six cranks', () => {
  expect(resistanceRise(new Array(5).fill(crank(0.006, 20)))).toBeNull();
});

it('compares the second half with the first', () => {
  const rise = resistanceRise([6, 6, 6, 9, 9, 9].map((milliohm) => crank(milliohm / 1000, 20)));
  expect(rise?.value).toBeCloseTo(0.5, 9);
});

it('takes out what the cold alone does, and then knows it less well', () => {
  // 20 °C colder at 1.2 % a degree: 27 % more, and no rise.
  const colder = resistanceRise([
    ...new Array(3).fill(crank(0.006, 20)),
    ...new Array(3).fill(crank(0.006 * Math.exp(0.012 * 20), 0)),
  ]);
  expect(colder?.value).toBeCloseTo(0, 9);
  const same = resistanceRise(new Array(6).fill(crank(0.006, 20)));
  expect(colder?.u).toBeGreaterThan(same?.u ?? 0);
});

it('leaves open what the temperature may have done where none was logged', () => {
  const blind = resistanceRise(new Array(6).fill(crank(0.006, null)));
  expect(blind?.value).toBe(0);
  expect(blind?.u).toBeGreaterThan(0.1);
});
