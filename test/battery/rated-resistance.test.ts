import { describe, expect, it } from 'vitest';
import { COLD_CRANKING, ratedResistanceOhm } from '../../src/battery/rated-resistance.ts';

describe('resistance that a cold-cranking rating allows', () => {
  it('pulls a full battery down to the end voltage of the standard at the rated current', () => {
    for (const standard of ['SAE', 'EN', 'IEC', 'DIN'] as const) {
      const ohm = ratedResistanceOhm({ coldCrankingA: 680, standard, systemV: 12 });
      expect(12.55 - 680 * ohm).toBeCloseTo(COLD_CRANKING[standard].volts, 9);
    }
  });

  it('is some milliohm, twice as much for two batteries in series', () => {
    const ohm = ratedResistanceOhm({ coldCrankingA: 680, standard: 'EN', systemV: 12 });
    expect(ohm).toBeGreaterThan(0.006);
    expect(ohm).toBeLessThan(0.009);
    expect(ratedResistanceOhm({ coldCrankingA: 680, standard: 'EN', systemV: 24 })).toBeCloseTo(2 * ohm, 12);
  });
});
