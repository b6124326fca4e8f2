import { describe, expect, it } from 'vitest';
import { chargingWindowV } from '../../src/battery/charging.ts';
import { CHEMISTRIES } from '../../src/battery/chemistry.ts';

const most = (value: number | null) => value ?? Number.POSITIVE_INFINITY;

describe.each(CHEMISTRIES)('charging window, %s', (chemistry) => {
  it('is open at every temperature, and widest without one', () => {
    const unknown = chargingWindowV({ chemistry, systemV: 12, temperatureC: null });
    for (let temperatureC = -40; temperatureC <= 80; temperatureC += 10) {
      const known = chargingWindowV({ chemistry, systemV: 12, temperatureC });
      expect(most(known.usualV) - known.minV).toBeGreaterThan(0.4);
      expect(most(known.mostV)).toBeGreaterThanOrEqual(most(known.usualV));
      expect(unknown.minV).toBeLessThanOrEqual(known.minV);
      expect(most(unknown.usualV)).toBeGreaterThanOrEqual(most(known.usualV));
      expect(most(unknown.mostV)).toBeGreaterThanOrEqual(most(known.mostV));
    }
  });

  it('scales with the system voltage and names its sources', () => {
    const twelve = chargingWindowV({ chemistry, systemV: 12, temperatureC: 20 });
    const twentyFour = chargingWindowV({ chemistry, systemV: 24, temperatureC: 20 });
    expect(twentyFour.minV).toBeCloseTo(2 * twelve.minV, 9);
    if (twelve.mostV !== null) expect(twentyFour.mostV).toBeCloseTo(2 * twelve.mostV, 9);
    for (const source of [twelve.minSource, twelve.usualSource, twelve.mostSource]) expect(source).not.toBe('');
  });
});

it('says where the missing temperature widened the window, and does not where it plays no part', () => {
  const sourceOf = (chemistry: 'flooded' | 'lfp') =>
    chargingWindowV({ chemistry, systemV: 12, temperatureC: null }).mostSource;
  expect(sourceOf('flooded')).toContain('no temperature');
  expect(sourceOf('lfp')).not.toContain('no temperature');
});
