import fc from 'fast-check';
import { describe, expect, it } from 'vitest';
import { type RestReading, restVoltageV, stateOfCharge, surfaceChargeV } from '../../src/battery/rest-voltage.ts';

const HOUR_S = 3600;
const reading: RestReading = {
  chemistry: 'flooded',
  systemV: 12,
  volts: 12.4,
  uVolts: 0.005,
  temperatureC: 25,
  restS: 48 * HOUR_S,
  drawA: 0,
};
const LEAD = ['flooded', 'efb', 'agm', 'gel'] as const;

function charge(change: Partial<RestReading>): { value: number; u: number } {
  const read = stateOfCharge({ ...reading, ...change });
  if (read === null) throw new Error('no state of charge');
  return read;
}

describe('state of charge', () => {
  it('finds the charge back whose rest voltage it is given, whatever the system voltage', () => {
    fc.assert(
      fc.property(
        fc.constantFrom(...LEAD),
        fc.constantFrom(6 as const, 12 as const, 24 as const),
        fc.double({ min: 0, max: 1, noNaN: true }),
        (chemistry, systemV, level) => {
          const volts = restVoltageV(chemistry, systemV, level);
          expect(charge({ chemistry, systemV, volts, restS: 1000 * HOUR_S }).value).toBeCloseTo(level, 6);
        },
      ),
    );
  });

  it('rises with the voltage, and stays within 0 and 1', () => {
    fc.assert(
      fc.property(
        fc.constantFrom(...LEAD),
        fc.double({ min: 8, max: 15, noNaN: true }),
        fc.double({ min: 0, max: 1, noNaN: true }),
        (chemistry, volts, more) => {
          const less = charge({ chemistry, volts });
          const greater = charge({ chemistry, volts: volts + more });
          expect(greater.value).toBeGreaterThanOrEqual(less.value);
          expect(less.value).toBeGreaterThanOrEqual(0);
          expect(greater.value).toBeLessThanOrEqual(1);
          expect(less.u).toBeGreaterThan(0.02);
        },
      ),
    );
  });

  it('reads a 24 V system with twice the voltage uncertainty alike', () => {
    expect(charge({ systemV: 24, volts: 24.8, uVolts: 0.01 })).toEqual(charge({}));
  });

  it('is told lower, and less surely, after a short rest', () => {
    const short = charge({ restS: HOUR_S });
    const long = charge({ restS: 24 * HOUR_S });
    expect(short.value).toBeLessThan(long.value);
    expect(short.u).toBeGreaterThan(1.5 * long.u);
    expect(surfaceChargeV('flooded', 12, HOUR_S)).toBeGreaterThan(0.2);
    expect(surfaceChargeV('flooded', 12, 24 * HOUR_S)).toBeLessThan(0.002);
    expect(surfaceChargeV('flooded', 24, HOUR_S)).toBeCloseTo(2 * surfaceChargeV('flooded', 12, HOUR_S), 9);
  });

  it('adds back what a steady draw pulls the voltage down', () => {
    expect(charge({ drawA: 2 }).value).toBeGreaterThan(charge({}).value);
    expect(charge({ drawA: 2 }).u).toBeGreaterThan(charge({}).u);
    expect(charge({ drawA: null }).value).toBe(charge({}).value);
    expect(charge({ drawA: null }).u).toBeGreaterThan(charge({}).u);
  });

  it('counts a cold battery of the same voltage as fuller, and is less sure without a temperature', () => {
    expect(charge({ temperatureC: -15 }).value).toBeGreaterThan(charge({}).value);
    expect(charge({ temperatureC: null }).value).toBe(charge({}).value);
    expect(charge({ temperatureC: null }).u).toBeGreaterThan(charge({}).u);
  });

  it('cannot tell on the plateau of lfp, but can off it', () => {
    for (const volts of [13.0, 13.2, 13.3]) expect(stateOfCharge({ ...reading, chemistry: 'lfp', volts })).toBeNull();
    expect(charge({ chemistry: 'lfp', volts: 12.4 }).value).toBeLessThan(0.1);
    expect(charge({ chemistry: 'lfp', volts: 13.6 }).value).toBe(1);
  });

  it('gives nothing for what is not a reading', () => {
    expect(stateOfCharge({ ...reading, volts: Number.NaN })).toBeNull();
    expect(stateOfCharge({ ...reading, uVolts: Number.NaN })).toBeNull();
  });
});
