import { expect, it } from 'vitest';
import { toSi } from '../../../src/log/rows/units.ts';
import type { Slot } from '../../../src/log/rows/wanted.ts';

const slot = (factor: number, divisor: number, offset: number) =>
  ({ kind: 'value', value: 0, factor, divisor, offset }) as Slot & { readonly kind: 'value' };

it('makes V of mV by one division, which rounds once, and leaves what lies behind', () => {
  const column = Float64Array.of(12_345, 700, 5);
  toSi(column, 2, slot(1, 1000, 0));
  expect([...column]).toEqual([12.345, 0.7, 5]);
});

it('a change of sign leaves no −0', () => {
  const column = Float64Array.of(0, 2);
  toSi(column, 2, slot(-1, 1, 0));
  expect(Object.is(column[0], 0)).toBe(true);
  expect(column[1]).toBe(-2);
});
