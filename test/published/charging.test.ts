import { describe, expect, it } from 'vitest';
import { chargingWindowV, HEAT_LIMIT_C } from '../../src/battery/charging.ts';

describe('charging window, flooded', () => {
  // a vehicle maker's data (seen), 12 V
  it.each([
    [-20, 14.0, 15.1],
    [20, 13.7, 14.6],
    [60, 13.2, 14.3],
  ])('at %i °C is %f to %f V', (temperatureC, minV, maxV) => {
    const window = chargingWindowV({ chemistry: 'flooded', systemV: 12, temperatureC });
    expect(window.minV).toBeCloseTo(minV, 9);
    expect(window.maxV).toBeCloseTo(maxV, 9);
  });

  // an engine maker's data (seen): 14.4 V at 20 °C, falling 0.1 V for each 10 °C (its ± 0.3 V reaches 0.1 V higher at 20 °C)
  it.each([-20, 0, 20, 40, 60])('holds the other published regulated voltage at %i °C', (temperatureC) => {
    const regulatedV = 14.4 - 0.01 * (temperatureC - 20);
    const { minV, maxV } = chargingWindowV({ chemistry: 'flooded', systemV: 12, temperatureC });
    expect(regulatedV).toBeGreaterThan(minV);
    expect(regulatedV).toBeLessThan(maxV);
    expect(regulatedV + 0.3).toBeLessThanOrEqual(maxV + 0.1 + 1e-9);
  });
});

describe('charging window, other chemistries, at 20 °C', () => {
  // data sheets (from memory): AGM and EFB up to 14.8 V, gel 14.4 V; four cells of lfp 3.65 V each (weak)
  it.each([
    ['agm', 14.8],
    ['efb', 14.8],
    ['gel', 14.4],
    ['lfp', 14.6],
  ] as const)('%s: at most %f V', (chemistry, maxV) => {
    expect(chargingWindowV({ chemistry, systemV: 12, temperatureC: 20 }).maxV).toBeCloseTo(maxV, 9);
  });
});

// NAVEDTRA 14113 (seen): 125 °F
it('keeps the electrolyte at 52 °C or less while charging', () => {
  expect(HEAT_LIMIT_C).toBe(52);
  expect(HEAT_LIMIT_C * 1.8 + 32).toBeCloseTo(125, -1);
});
