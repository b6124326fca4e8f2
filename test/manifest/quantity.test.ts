import fc from 'fast-check';
import { describe, expect, it } from 'vitest';
import { UserError } from '../../src/base/problem.ts';
import { type Dimension, parseAccuracy, parseQuantity, quantityFault } from '../../src/manifest/quantity.ts';

describe('parseQuantity', () => {
  const good: [string, Dimension, number][] = [
    ['50 mA', 'current', 0.05],
    ['50mA', 'current', 0.05],
    ['500 A', 'current', 500],
    ['20 µA', 'current', 2e-5],
    ['20 \u03bcA', 'current', 2e-5],
    ['20 uA', 'current', 2e-5],
    ['0,05 A', 'current', 0.05],
    ['0,125 A', 'current', 0.125],
    ['.5 A', 'current', 0.5],
    ['−5 mA', 'current', -0.005],
    ['12 V', 'voltage', 12],
    ['12.650 V', 'voltage', 12.65],
    ['10 mV', 'voltage', 0.01],
    ['70 Ah', 'charge', 70],
    ['45 min', 'duration', 2700],
    ['100ms', 'duration', 0.1],
    ['36 h', 'duration', 129_600],
    ['14 d', 'duration', 1_209_600],
    ['14 days', 'duration', 1_209_600],
    ['1 h 30 min', 'duration', 5400],
    ['84210 km', 'distance', 84210],
    ['84 210 km', 'distance', 84210],
    ['84\u202f210 km', 'distance', 84210],
    ['10 mi', 'distance', 16.09344],
    ['80 %', 'fraction', 0.8],
    ['7 %', 'fraction', 0.07],
    ['-5 °C', 'temperature', -5],
    ['-5 ℃', 'temperature', -5],
    ['212 °F', 'temperature', 100],
    ['0 K', 'temperature', -273.15],
    ['2 GB', 'size', 2e9],
    ['1 KiB', 'size', 1024],
  ];
  it.each(good)('%j is %s %d', (text, dimension, value) => {
    expect(parseQuantity(text, dimension)).toBeCloseTo(value, 12);
  });

  it('rounds once: 7 % is 0.07', () => {
    expect(parseQuantity('7 %', 'fraction')).toBe(0.07);
    expect(parseQuantity('29 mA', 'current')).toBe(0.029);
  });

  const bad: [string, Dimension, string | RegExp][] = [
    ['50', 'current', 'Found "50" without a unit. Expected: a current in A, mA or µA, such as "50 mA".'],
    ['50 V', 'current', 'Found a voltage (V). Expected: a current in A, mA or µA, such as "50 mA".'],
    ['70 A', 'charge', 'Found a current (A). Expected: a charge in Ah or mAh, such as "70 Ah".'],
    ['50 ma', 'current', 'Unknown unit "ma". Did you mean mA?'],
    ['45 mim', 'duration', 'Did you mean min?'],
    ['1,234 km', 'distance', '"1,234 km" can be read in two ways. Write "1234 km" or "1.2340 km".'],
    ['84.210 km', 'distance', 'can be read in two ways. Write "84210 km" or "84.21 km".'],
    ['12,500 V', 'voltage', 'Write "12500 V" or "12.50 V".'],
    ['', 'current', 'Found ""'],
    ['A', 'current', 'Found "A"'],
    ['1.2.3 V', 'voltage', 'Found "1.2.3 V"'],
    ['5e3 V', 'voltage', 'Found "5e3 V"'],
    ['50 mA 20 mA', 'current', /Unknown unit|Found/],
    ['1 h -30 min', 'duration', /Unknown unit|Found/],
    ['1 h 2 h 3 h 4 h', 'duration', 'Found "1 h 2 h 3 h 4 h"'],
    ['5 constructor', 'voltage', 'Unknown unit "constructor"'],
    [`5 ${'x'.repeat(100_000)}`, 'voltage', '…'],
    ['5 \u001b[31mV', 'voltage', '\\u001b[31m'],
  ];
  it.each(bad)('row %# is refused', (text, dimension, message) => {
    expect(() => parseQuantity(text, dimension)).toThrow(UserError);
    expect(() => parseQuantity(text, dimension)).toThrow(message);
  });

  it('says what is taken where something other than text was found', () => {
    expect(quantityFault(50, 'current')).toBe(
      'Found 50 without a unit. Expected: a current in A, mA or µA, such as "50 mA".',
    );
    expect(quantityFault([1], 'current')).toContain('Found a list of 1.');
  });
});

describe('parseAccuracy', () => {
  it('takes a share, a fixed part, or both', () => {
    expect(parseAccuracy('0.1 % + 10 mV', 'voltage')).toEqual({ relative: 0.001, absolute: 0.01 });
    expect(parseAccuracy('5 mA + 1 %', 'current')).toEqual({ relative: 0.01, absolute: 0.005 });
    expect(parseAccuracy('±1%', 'current')).toEqual({ relative: 0.01, absolute: 0 });
    expect(parseAccuracy('9 °F', 'temperature')).toEqual({ relative: 0, absolute: 5 });
    expect(parseAccuracy('1 K', 'temperature')).toEqual({ relative: 0, absolute: 1 });
  });

  it.each(['', '1', '1 % + 2 %', '1 mA + 1 mA + 1 %', '-1 %', '0 %', '1 % + 10 mV', '1 % +', '+'])(
    'refuses %j',
    (text) => {
      expect(() => parseAccuracy(text, 'current')).toThrow(UserError);
    },
  );
});

it('any text gives a finite number or a UserError', () => {
  const text = fc.oneof(
    fc.string({ unit: 'grapheme' }),
    fc.stringMatching(/^[-+ 0-9.,]{0,30} ?(mA|V|Ah|h|km|%|°F|GB)?$/),
  );
  const dimension = fc.constantFrom<Dimension>('current', 'voltage', 'duration', 'distance', 'temperature', 'size');
  fc.assert(
    fc.property(text, dimension, (input, kind) => {
      try {
        expect(Number.isFinite(parseQuantity(input, kind))).toBe(true);
      } catch (error) {
        expect(error).toBeInstanceOf(UserError);
      }
    }),
  );
});
