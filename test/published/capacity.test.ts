import { describe, expect, it } from 'vitest';
import {
  capacityFromReserveAh,
  chargeToNoStartAh,
  peukertHours,
  reserveCapacityMin,
} from '../../src/battery/capacity.ts';
import { selfDischargePerDay } from '../../src/battery/self-discharge.ts';

describe('reserve capacity', () => {
  // EN 50342-1 / IEC 60095-1 (from memory): RC = β · C20^α; worked by hand with logarithms
  it.each([
    ['flooded', 70, 117.7],
    ['efb', 70, 117.7],
    ['agm', 70, 132.2],
    ['gel', 100, 197.2],
  ] as const)('%s, %i Ah: %f min', (chemistry, capacityAh, minutes) => {
    expect(reserveCapacityMin(chemistry, capacityAh)).toBeCloseTo(minutes, 0);
    expect(capacityFromReserveAh(chemistry, minutes)).toBeCloseTo(capacityAh, 0);
  });

  // Makers' own ratings of gel batteries, 12 V (a table in an instrument's manual, seen): the relation for valve-regulated ones holds
  it.each([
    [70, 130],
    [86, 167],
    [95, 188],
    [180, 388],
  ])('gel, %i Ah: %i min as its maker rates it, to 3 %%', (capacityAh, minutes) => {
    expect((reserveCapacityMin('gel', capacityAh) ?? 0) / minutes).toBeGreaterThan(0.97);
    expect((reserveCapacityMin('gel', capacityAh) ?? 0) / minutes).toBeLessThan(1.03);
  });

  // computed: 100 min at 25 A
  it('draws 41.67 Ah in 100 min, which is not the 20-hour capacity', () => {
    expect(capacityFromReserveAh('flooded', 100)).toBeGreaterThan(55);
  });
});

describe('Peukert, normalised', () => {
  // published worked example (seen): 120 Ah at 20 h, 120 A, k = 1.4 → 0.302 h
  it('gives the worked example', () => {
    expect(peukertHours({ capacityAh: 120, ratedHours: 20, currentA: 120, exponent: 1.4 })).toBeCloseTo(0.302, 3);
  });

  // Makers' ratings at 20 h and the minutes at 25 A, with the exponent that a table in an instrument's manual works out of them (seen)
  it.each([
    [85, 1.23, 135],
    [105, 1.28, 160],
    [130, 1.24, 225],
    [216, 1.17, 450],
    [70, 1.13, 130],
    [180, 1.11, 388],
  ])('%i Ah, exponent %f: %i min at 25 A', (capacityAh, exponent, minutes) => {
    const hours = peukertHours({ capacityAh, ratedHours: 20, currentA: 25, exponent });
    expect((60 * hours) / minutes).toBeGreaterThan(0.98);
    expect((60 * hours) / minutes).toBeLessThan(1.02);
  });

  it('gives the rated hours exactly at the rated current, for any exponent', () => {
    for (const exponent of [1, 1.1, 1.25, 1.4]) {
      expect(peukertHours({ capacityAh: 70, ratedHours: 20, currentA: 3.5, exponent })).toBeCloseTo(20, 12);
    }
  });
});

describe('charge to a no-start', () => {
  // a vehicle maker's bulletin (second-hand): 20 to 30 Ah, or about 40 % of what is there
  it('is 20 to 30 Ah for a full battery of middle size, and 40 % lies within', () => {
    const { low, high } = chargeToNoStartAh(70, 1);
    expect([low, high]).toEqual([20, 30]);
    expect(0.4 * 70).toBeGreaterThan(low);
    expect(0.4 * 70).toBeLessThan(high);
  });
});

describe('self-discharge', () => {
  // TM 9-6140-200-14, §4-8 (seen): density lost a day, of the 0.145 between full and empty (TM 5-3820-256-24-4, seen)
  it.each([
    [38, 0.0025],
    [27, 0.001],
    [10, 0.0003],
  ])('at %i °C loses a density of %f a day', (temperatureC, densityLoss) => {
    expect(selfDischargePerDay('flooded', temperatureC).high).toBeCloseTo(densityLoss / 0.145, 9);
  });

  // the same: doubles each 8 to 10 °C
  it.each([12, 20, 26, 30, 36])('doubles each 8 to 10 °C, also at %i °C', (temperatureC) => {
    const doubling = Math.log(2) / Math.log(rate(temperatureC + 0.5) / rate(temperatureC - 0.5));
    expect(doubling).toBeGreaterThan(8);
    expect(doubling).toBeLessThan(10);
  });
});

function rate(temperatureC: number): number {
  return selfDischargePerDay('flooded', temperatureC).high;
}
