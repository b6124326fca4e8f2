/** What the portrait says of charging while driving, held against drives that are laid second by second. */
import { describe, expect, it } from 'vitest';
import type { Analysis } from '../../../src/analysis/model.ts';
import type { Session } from '../../../src/manifest/session.ts';
import { bursts } from '../../../src/measures/portrait/bursts.ts';
import { chargingByTemperature } from '../../../src/measures/portrait/temperature.ts';

interface Second {
  readonly v: number;
  readonly i: number;
  readonly c: number;
}
const session = { vehicle: { systemV: 12 } } as Session;

/** One drive of so many seconds from nought on, a tile a second. */
function driven(seconds: number, at: (s: number) => Second, stepS = 1): Analysis {
  const n = Math.floor(seconds / stepS);
  const column = (of: (s: number) => number) => Float64Array.from({ length: n }, (_, k) => of(k * stepS));
  const v = column((s) => at(s).v);
  const i = column((s) => at(s).i);
  const tiles = {
    n,
    t0: column((s) => s),
    t1: column((s) => s + stepS),
    v,
    vMin: v,
    vMax: v,
    i,
    netAs: i.map((amps) => amps * stepS),
    iCov: column(() => stepS),
    temp: column((s) => at(s).c),
  };
  return {
    tiles,
    drives: [{ start: 0, end: n * stepS }],
    has: { current: true, temperature: true, channels: [] },
    medianStepS: stepS,
    stepsS: { driving: stepS, parked: null, awake: null },
  } as unknown as Analysis;
}

/** After two minutes of plain charging, 14 s of each minute are raised. */
const harvest = (s: number): Second => {
  if (s < 165) return { v: 14.3, i: 25, c: 20 };
  return s % 60 >= 30 && s % 60 < 44 ? { v: 14.9, i: 22, c: 20 } : { v: 12.8, i: -3, c: 20 };
};

describe('bursts of charging', () => {
  it('are counted, and have their length, level and charge', () => {
    const found = bursts(driven(3600, harvest), session);
    // One in each of the minutes 3 to 59; that of minute 2 lies within the plain charging.
    expect(found?.all).toHaveLength(57);
    expect(found?.seconds).toEqual({ p05: 14, p50: 14, p95: 14 });
    expect(found?.volts.p50).toBeCloseTo(14.9, 6);
    expect(found?.amps.p50).toBeCloseTo(22, 6);
    expect(found?.chargeAh.p50).toBeCloseTo((22 * 14) / 3600, 6);
    expect(found?.betweenV).toBeCloseTo(12.8, 6);
    expect(found?.betweenA).toBeCloseTo(-3, 6);
    expect(found?.perHour).toBeCloseTo((3600 * 57) / 3480, 6);
    const inBursts = 57 * 14 * 22;
    expect(found?.share).toBeCloseTo(inBursts / (inBursts + 45 * 25), 6);
  });

  it.each<[string, (s: number) => Second, number?]>([
    ['a steady regulator', (s) => ({ v: 14.2 + 0.05 * Math.sin(s), i: 6, c: 20 })],
    ['one step down after the first half', (s) => ({ v: s < 1800 ? 14.4 : 12.9, i: s < 1800 ? 8 : -1, c: 20 })],
    [
      'minutes of charging between minutes without',
      (s) => ({ v: s % 600 < 200 ? 14.8 : 12.4, i: s % 600 < 200 ? 20 : -7, c: 20 }),
    ],
    ['a log too slow to show them', harvest, 10],
  ])('are none in %s', (_, at, stepS) => {
    expect(bursts(driven(3600, at, stepS), session)).toBeNull();
  });
});

describe('charging by temperature', () => {
  it('has a part for each 5 °C, with the levels of its time', () => {
    // From −4 °C to 16 °C in an hour; the regulator takes away 30 mV for each °C.
    const parts = chargingByTemperature(
      driven(3720, (s) => {
        const c = -4 + Math.max(0, s - 120) / 180;
        return { v: 14.7 - 0.03 * c, i: 5, c };
      }),
      session,
    );
    expect(parts.map(({ fromC, toC, drives }) => [fromC, toC, drives])).toEqual([
      [-5, 0, 1],
      [0, 5, 1],
      [5, 10, 1],
      [10, 15, 1],
      [15, 20, 1],
    ]);
    const whole = parts[2];
    expect(whole?.seconds).toBe(900);
    expect(whole?.volts.p50).toBeCloseTo(14.7 - 0.03 * 7.5, 2);
    expect(whole?.volts.p95).toBeCloseTo(14.7 - 0.03 * 5.25, 2);
    expect(whole?.amps?.p50).toBeCloseTo(5, 2);
  });

  it('goes on with the last reading of a thermometer that is read each five minutes', () => {
    const parts = chargingByTemperature(
      driven(1920, (s) => ({ v: 14.2, i: 4, c: s % 300 === 0 ? 12 : Number.NaN })),
      session,
    );
    // All but the first two minutes.
    expect(parts).toMatchObject([{ fromC: 10, drives: 1, seconds: 1800 }]);
  });

  it('has none without a temperature', () => {
    const parts = chargingByTemperature(
      driven(3600, () => ({ v: 14.2, i: 5, c: Number.NaN })),
      session,
    );
    expect(parts).toEqual([]);
  });
});
