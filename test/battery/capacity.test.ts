import { describe, expect, it } from 'vitest';
import { capacityFromReserveAh, chargeToNoStartAh, reserveCapacityMin, standDays } from '../../src/battery/capacity.ts';
import { selfDischargePerDay } from '../../src/battery/self-discharge.ts';

describe('reserve capacity', () => {
  it('leads back to the capacity it came from', () => {
    for (const chemistry of ['flooded', 'efb', 'agm', 'gel'] as const) {
      const minutes = reserveCapacityMin(chemistry, 62) ?? Number.NaN;
      expect(capacityFromReserveAh(chemistry, minutes)).toBeCloseTo(62, 9);
    }
  });

  it('has no relation for lfp', () => {
    expect(reserveCapacityMin('lfp', 60)).toBeNull();
    expect(capacityFromReserveAh('lfp', 120)).toBeNull();
  });
});

describe('charge to a no-start', () => {
  it('takes off what has gone already, and never promises more than half of a small battery or 40 % of a low one', () => {
    expect(chargeToNoStartAh(44, 1)).toEqual({ low: 0.4 * 44, high: 22 });
    expect(chargeToNoStartAh(70, 0.5)).toEqual({ low: 0, high: 14 });
    expect(chargeToNoStartAh(70, 0.9)).toEqual({ low: expect.closeTo(13, 9), high: expect.closeTo(25.2, 9) });
    expect(chargeToNoStartAh(70, 0)).toEqual({ low: 0, high: 0 });
  });

  it('grows with a large battery beyond 30 Ah', () => {
    expect(chargeToNoStartAh(180, 1)).toEqual({ low: 20, high: 72 });
  });
});

describe('days to stand', () => {
  const none = { low: 0, high: 0 };
  const steady = (a: number) => ({ low: a, high: a });

  it('is less for a draw above the 20-hour current, more so in an old flooded battery than in lfp', () => {
    const asked = { capacityAh: 80, toLoseAh: steady(20), lossPerDay: none };
    // Up to C/20 = 4 A it is charge over draw.
    expect(standDays({ ...asked, chemistry: 'flooded', drawA: steady(4) })).toEqual(steady(20 / 96));
    const [flooded, lfp] = (['flooded', 'lfp'] as const).map((chemistry) =>
      standDays({ ...asked, chemistry, drawA: steady(8) }),
    );
    // Twice the rated current: 2^(1 − k) of the charge, k = 1.6 and 1.1; by hand 0.660 and 0.933.
    expect(flooded.low).toBeCloseTo((0.66 * 20) / 192, 3);
    expect(flooded.high).toBeCloseTo((0.933 * 20) / 192, 4);
    expect(lfp.high).toBeCloseTo(20 / 192, 9);
  });

  it('is charge over draw: 20 to 30 Ah at 40 mA, 21 to 31 days', () => {
    const days = standDays({
      chemistry: 'flooded',
      capacityAh: 70,
      toLoseAh: { low: 20, high: 30 },
      drawA: { low: 0.04, high: 0.04 },
      lossPerDay: none,
    });
    expect(days.low).toBeCloseTo(20 / 0.96, 9);
    expect(days.high).toBeCloseTo(30 / 0.96, 9);
  });

  it('takes the worse ends together, and counts self-discharge', () => {
    const days = standDays({
      chemistry: 'flooded',
      capacityAh: 100,
      toLoseAh: { low: 20, high: 30 },
      drawA: { low: 0.02, high: 0.06 },
      lossPerDay: { low: 0.001, high: 0.005 },
    });
    expect(days.low).toBeCloseTo(20 / (1.44 + 0.5), 9);
    expect(days.high).toBeCloseTo(30 / (0.48 + 0.1), 9);
  });

  it('has no end where nothing is drawn, and a draw below zero fills nothing', () => {
    const days = standDays({
      chemistry: 'flooded',
      capacityAh: 70,
      toLoseAh: { low: 20, high: 30 },
      drawA: { low: -0.01, high: 0 },
      lossPerDay: none,
    });
    expect(days).toEqual({ low: Number.POSITIVE_INFINITY, high: Number.POSITIVE_INFINITY });
  });
});

describe('self-discharge', () => {
  it('is less for newer kinds than for the antimony batteries of the table', () => {
    const flooded = selfDischargePerDay('flooded', 25);
    for (const chemistry of ['efb', 'agm', 'gel', 'lfp'] as const) {
      expect(selfDischargePerDay(chemistry, 25).high).toBeLessThan(flooded.high);
    }
    expect(flooded.low * 30).toBeCloseTo(0.03, 2);
  });
});
