import { describe, expect, it } from 'vitest';
import { standDays } from '../../src/battery/capacity.ts';
import { expectedToSee } from '../../src/battery/counts.ts';
import { bytesForFiles, hoursOnCard } from '../../src/battery/planning.ts';
import { selfDischargePerDay } from '../../src/battery/self-discharge.ts';
import { parseQuantity } from '../../src/manifest/quantity.ts';

describe('how long to wait for k events', () => {
  // Chi-squared critical values, 2k degrees of freedom, in every statistical table, such as NIST/SEMATECH e-Handbook 1.3.6.7.4
  // (from memory). The mean number to expect is half of them (Garwood 1936).
  it.each([
    [1, 0.9, 4.605],
    [1, 0.95, 5.991],
    [1, 0.99, 9.21],
    [2, 0.9, 7.779],
    [2, 0.95, 9.488],
    [2, 0.99, 13.277],
    [3, 0.95, 12.592],
    [5, 0.9, 15.987],
    [5, 0.95, 18.307],
    [10, 0.95, 31.41],
    [10, 0.99, 37.566],
  ])('%i with a confidence of %f: half of %f', (times, confidence, chiSquared) => {
    expect(2 * expectedToSee(times, confidence)).toBeCloseTo(chiSquared, 2);
  });

  // Computed: probability of none in 3 mean intervals is e^−3
  it('misses one event in twenty after three mean intervals', () => {
    expect(1 - Math.exp(-expectedToSee(1, 0.95))).toBeCloseTo(0.95, 12);
  });
});

describe('sizes of cards', () => {
  // IEC 80000-13 (from memory): kilo is 1000, kibi is 1024
  it.each([
    ['2 GB', 2_000_000_000],
    ['2 GiB', 2_147_483_648],
    ['512 MiB', 536_870_912],
    ['1 TB', 1_000_000_000_000],
  ])('%s is %i bytes', (text, bytes) => {
    expect(parseQuantity(text, 'size')).toBe(bytes);
  });

  // Computed: 32-bit tables, two of them, cost 8 bytes for each cluster of 32 KiB: 0.024 %
  it('loses a quarter of a percent of 2 GB to tables and the reserved start', () => {
    const room = bytesForFiles(2e9);
    expect(room % 32_768).toBe(0);
    expect(2e9 - room).toBeGreaterThan(4 * 2 ** 20 + 0.000244 * room);
    expect(1 - room / 2e9).toBeLessThan(0.0025);
  });

  // Computed: 66 bytes each 0.1 s are 2.376 MB an hour; 2 GB hold 841.75 h of them at most
  it('holds 35 days of ten rows a second', () => {
    const hours = hoursOnCard({ cardBytes: 2e9, rowBytes: 66, stepS: 0.1 });
    expect(hours).toBeLessThan(2e9 / 2.376e6);
    expect(hours).toBeGreaterThan(0.997 * (2e9 / 2.376e6));
  });
});

describe('a worked stand', () => {
  // Worked by hand: 50 mA are 1.2 Ah a day; self-discharge at 27 °C by TM 9-6140-200-14 §4-8 (seen) 0.001/0.145 of 70 Ah,
  // 0.4828 Ah; of 20 to 30 Ah (a vehicle maker's bulletin, second-hand) 20/1.6828 days at worst
  it('a full 70 Ah battery lasts 12 to 24 days at 50 mA and 27 °C', () => {
    const days = standDays({
      chemistry: 'flooded',
      capacityAh: 70,
      toLoseAh: { low: 20, high: 30 },
      drawA: { low: 0.05, high: 0.05 },
      lossPerDay: selfDischargePerDay('flooded', 27),
    });
    expect(days.low).toBeCloseTo(11.885, 3);
    expect(days.high).toBeCloseTo(30 / (1.2 + 0.483 / 6), 1);
  });
});
