import { describe, expect, it } from 'vitest';
import { chargeU, combine, decide, expand, rectangular, resolutionU } from '../../src/battery/uncertainty.ts';

// JCGM 100, 4.3.7 (from memory; the arithmetic is exact)
it('spreads a half-width of 0.40 to a standard uncertainty of 0.23', () => {
  expect(rectangular(0.4)).toBeCloseTo(0.23, 2);
});

// JCGM 100, F.2.2.1 (from memory): u² = step² / 12
it('spreads a resolution over a step', () => {
  expect(resolutionU(0.1) ** 2).toBeCloseTo(0.1 ** 2 / 12, 12);
});

// JCGM 100, H.1 (seen), in nm: the calibrated end gauge
it('combines 25, 5.8, 3.9, 6.7, 2.9 and 16.6 nm to 32 nm', () => {
  expect(combine(25, 5.8, 3.9, 6.7, 2.9, 16.6)).toBeCloseTo(32, 0);
});

describe('charge counted over a day', () => {
  // computed: 50 mA for 24 h; offset ± 2 mA → 0.0277 Ah; gain ± 1 % → 0.0069 Ah; U (k = 2) = 0.0571 Ah
  const day = { amperes: 0.05, seconds: 86400, scatterA: 0, n: 86400 };

  it('has the offset grow with time', () => {
    expect(chargeU({ ...day, accuracy: { relative: 0, absolute: 0.002 } })).toBeCloseTo(0.0277, 4);
  });

  it('has the gain grow with the charge', () => {
    expect(chargeU({ ...day, accuracy: { relative: 0.01, absolute: 0 } })).toBeCloseTo(0.0069, 4);
  });

  it('expands to 0.0571 Ah, however often it was read', () => {
    const accuracy = { relative: 0.01, absolute: 0.002 };
    expect(expand(chargeU({ ...day, accuracy }))).toBeCloseTo(0.0571, 4);
    expect(expand(chargeU({ ...day, accuracy, n: 10 }))).toBeCloseTo(0.0571, 4);
  });
});

describe('a limit within value ± U gives no verdict', () => {
  // JCGM 106, guarded acceptance and rejection (from memory)
  it.each([
    [30, 'within'],
    [44.9, 'within'],
    [45.1, 'undecided'],
    [50, 'undecided'],
    [54.9, 'undecided'],
    [55.1, 'beyond'],
  ] as const)('%f ± 5 against at most 50: %s', (value, verdict) => {
    expect(decide({ value, U: 5, limit: 50, side: 'max' })).toBe(verdict);
    expect(decide({ value: 100 - value, U: 5, limit: 50, side: 'min' })).toBe(verdict);
  });
});
