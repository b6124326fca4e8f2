import { expect, it } from 'vitest';
import { contradicts, unitInName, unitOf } from '../../../src/log/rows/unit-in-name.ts';

it.each([
  ['IBat [mA]', 'mA', true],
  ['Batt (V)', 'V', true],
  ['temp_c', '°C', false],
  ['I/mA', 'mA', false],
  ['Strom in A', 'A', false],
  ['batteryMv', 'mV', false],
  ['Temperature (℃)', '°C', true],
] as const)('%s states %s', (name, unit, bracketed) => {
  expect(unitInName(name)).toEqual({ unit, bracketed });
});

it('finds none where there is none', () => {
  expect(unitInName('battery')).toBeUndefined();
  expect(unitInName('drive (left)')).toBeUndefined();
  expect(unitOf('constructor')).toBeUndefined();
});

it('a letter alone speaks only against another unit of the same quantity', () => {
  expect(contradicts('current_ma', 'A')).toBe('mA');
  expect(contradicts('phase_a', 'V')).toBeUndefined();
  expect(contradicts('phase [A]', 'V')).toBe('A');
  expect(contradicts('voltage (V)', 'V')).toBeUndefined();
});
