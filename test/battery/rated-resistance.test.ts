import { describe, expect, it } from 'vitest';
import { COLD_CRANKING, ratedResistanceOhm } from '../../src/battery/rated-resistance.ts';
import { coldShiftV } from '../../src/battery/rest-voltage.ts';

const rated = { coldCrankingA: 680, systemV: 12, temperatureC: -18 } as const;

describe('resistance that a cold-cranking rating allows', () => {
  it('pulls a full, cold battery down to the end voltage of the standard at the rated current', () => {
    for (const standard of ['SAE', 'EN', 'IEC', 'DIN'] as const) {
      const fullV = 12.63 + coldShiftV(-18).middleV;
      expect(fullV - 680 * ratedResistanceOhm({ ...rated, standard })).toBeCloseTo(COLD_CRANKING[standard].volts, 9);
    }
  });

  it('is less for a warmer battery, by the falls that the load-test table allows: 3.0 V at 21 °C, 4.0 V at −18 °C', () => {
    const cold = ratedResistanceOhm({ ...rated, standard: 'EN' });
    const warm = ratedResistanceOhm({ ...rated, standard: 'EN', temperatureC: 21 });
    expect(warm / cold).toBeGreaterThan(0.7);
    expect(warm / cold).toBeLessThan(0.8);
    expect(ratedResistanceOhm({ ...rated, standard: 'EN', temperatureC: null })).toBeCloseTo(cold, 12);
  });

  it('is some milliohm, twice as much for two batteries in series', () => {
    const ohm = ratedResistanceOhm({ ...rated, standard: 'EN' });
    expect(ohm).toBeGreaterThan(0.006);
    expect(ohm).toBeLessThan(0.009);
    expect(ratedResistanceOhm({ ...rated, standard: 'EN', systemV: 24 })).toBeCloseTo(2 * ohm, 12);
  });
});
