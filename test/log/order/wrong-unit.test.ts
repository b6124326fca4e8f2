import { expect, it } from 'vitest';
import { UserError } from '../../../src/base/problem.ts';
import type { Range } from '../../../src/log/order/plausible.ts';
import { createRangeTally } from '../../../src/log/order/wrong-unit.ts';
import { sessionWith } from '../helpers.ts';

const volts: Range = { value: 0, name: 'v', unit: 'V', low: -1, high: 42 };
const celsius: Range = { value: 2, name: 'c', unit: '°C', low: -60, high: 150 };

function refusal(range: Range, out: readonly number[], rows: number): string {
  const tally = createRangeTally(sessionWith());
  tally.seen(range, rows);
  for (const value of out) tally.takenOut(range, value);
  try {
    tally.refuse();
  } catch (error) {
    if (error instanceof UserError) return error.problems.map(({ message }) => message).join('\n');
    throw error;
  }
  return '';
}

const many = (value: number, n: number) => new Array<number>(n).fill(value);

it('names the unit in which the readings would be plausible', () => {
  expect(refusal(volts, many(12_600, 100), 100)).toMatch(/All readings of "v".*near 12600 V.*Read as mV/);
  expect(refusal(celsius, many(293, 80), 100)).toMatch(/80 % of the readings.*Read as K/);
});

it('lets half of the readings be wrong', () => {
  expect(refusal(volts, many(12_600, 50), 100)).toBe('');
});

it('asks for the column where no unit helps and next to all of the voltage is wrong; a probe that is not there may read nonsense', () => {
  expect(refusal(volts, many(-5000, 100), 100)).toMatch(/Is it the right column/);
  expect(refusal(celsius, many(-999, 100), 100)).toBe('');
});
