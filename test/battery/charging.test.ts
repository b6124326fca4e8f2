import { describe, expect, it } from 'vitest';
import { chargingWindowV } from '../../src/battery/charging.ts';

const CHEMISTRIES = ['flooded', 'efb', 'agm', 'gel', 'lfp'] as const;

describe.each(CHEMISTRIES)('charging window, %s', (chemistry) => {
  it('is open at every temperature, and widest without one', () => {
    const unknown = chargingWindowV({ chemistry, systemV: 12, temperatureC: null });
    for (let temperatureC = -40; temperatureC <= 80; temperatureC += 10) {
      const known = chargingWindowV({ chemistry, systemV: 12, temperatureC });
      expect(known.maxV - known.minV).toBeGreaterThan(0.4);
      expect(unknown.minV).toBeLessThanOrEqual(known.minV);
      expect(unknown.maxV).toBeGreaterThanOrEqual(known.maxV);
    }
  });

  it('scales with the system voltage and names its source', () => {
    const twelve = chargingWindowV({ chemistry, systemV: 12, temperatureC: 20 });
    const twentyFour = chargingWindowV({ chemistry, systemV: 24, temperatureC: 20 });
    expect(twentyFour.minV).toBeCloseTo(2 * twelve.minV, 9);
    expect(twentyFour.maxV).toBeCloseTo(2 * twelve.maxV, 9);
    expect(twelve.source).not.toBe('');
  });
});

it('says where the missing temperature widened the window, and does not where it plays no part', () => {
  expect(chargingWindowV({ chemistry: 'flooded', systemV: 12, temperatureC: null }).source).toContain('no temperature');
  expect(chargingWindowV({ chemistry: 'lfp', systemV: 12, temperatureC: null }).source).not.toContain('no temperature');
});

it('lets AGM and EFB be charged higher than flooded, and gel less high', () => {
  const maxV = (chemistry: (typeof CHEMISTRIES)[number]) =>
    chargingWindowV({ chemistry, systemV: 12, temperatureC: 20 }).maxV;
  expect(maxV('agm')).toBeGreaterThan(maxV('flooded'));
  expect(maxV('efb')).toBeGreaterThan(maxV('flooded'));
  expect(maxV('gel')).toBeLessThan(maxV('flooded'));
});
