import fc from 'fast-check';
import { describe, expect, it } from 'vitest';
import {
  bytesForFiles,
  CLUSTER_BYTES,
  drawUncertaintyA,
  hoursOnCard,
  secondsToUncertainty,
} from '../../src/battery/planning.ts';

describe('hoursOnCard', () => {
  it('takes every row that fits, and not one more', () => {
    fc.assert(
      fc.property(fc.integer({ min: 5e6, max: 64e9 }), fc.integer({ min: 10, max: 500 }), (cardBytes, rowBytes) => {
        const rows = Math.round(hoursOnCard({ cardBytes, rowBytes, stepS: 3600 }));
        const room = bytesForFiles(cardBytes);
        expect(rows * rowBytes).toBeLessThanOrEqual(room);
        expect((rows + 1) * rowBytes).toBeGreaterThan(room);
      }),
    );
  });

  it('holds less the smaller the files are, and never less than half once a file fills a cluster', () => {
    const base = { cardBytes: 2e9, rowBytes: 66, stepS: 1 };
    const whole = hoursOnCard(base);
    const hourly = hoursOnCard({ ...base, fileS: 3600 });
    const eachCluster = hoursOnCard({ ...base, fileS: Math.floor(CLUSTER_BYTES / 66) + 1 });
    expect(hourly).toBeLessThan(whole);
    expect(eachCluster).toBeLessThan(hourly);
    expect(eachCluster).toBeGreaterThan(0.5 * whole);
  });

  it('one row a file costs a cluster each', () => {
    const room = bytesForFiles(2e9);
    expect(hoursOnCard({ cardBytes: 2e9, rowBytes: 66, stepS: 3600, fileS: 1 })).toBe(room / CLUSTER_BYTES);
  });

  it('a card that its tables fill holds nothing', () => {
    expect(hoursOnCard({ cardBytes: 1e6, rowBytes: 66, stepS: 1 })).toBe(0);
  });
});

describe('uncertainty of a draw after a time', () => {
  const sensor = { accuracy: { relative: 0.01, absolute: 0.005 }, resolutionA: 0, noiseA: 0.02, stepS: 1 };
  const leastA = drawUncertaintyA(sensor, 0.05, Number.POSITIVE_INFINITY);

  it('is twice 0.5 mA and 5 mA together by √3 for 1 % + 5 mA at 50 mA, however long', () => {
    expect(leastA).toBeCloseTo((2 * Math.hypot(0.0005, 0.005)) / Math.sqrt(3), 12);
  });

  it('is reached after the seconds told, and not before', () => {
    for (const target of [0.00581, 0.007, 0.01]) {
      const seconds = secondsToUncertainty(sensor, 0.05, target) as number;
      expect(drawUncertaintyA(sensor, 0.05, seconds)).toBeLessThanOrEqual(target);
      expect(drawUncertaintyA(sensor, 0.05, seconds - 1)).toBeGreaterThan(target);
    }
  });

  it('is never below what accuracy leaves', () => {
    expect(secondsToUncertainty(sensor, 0.05, leastA)).toBeNull();
    expect(secondsToUncertainty({ ...sensor, noiseA: 0 }, 0.05, 1.01 * leastA)).toBe(1);
  });
});
