import { describe, expect, it } from 'vitest';
import { cellCount, cellVolts, makeBattery } from '../../src/demo/battery-model.ts';

const HOUR = 3600;
const FLOODED = { chemistry: 'flooded', capacityAh: 70, charge: 0.8 } as const;

/** Holds the terminals at `volts` for `seconds`; returns the last current. */
function regulate(battery: ReturnType<typeof makeBattery>, volts: number, seconds: number, tempC = 25): number {
  let amps = 0;
  for (let t = 0; t < seconds; t++) {
    const over = volts - battery.emf();
    amps = over > 0 ? over / (battery.ohm() + battery.acceptOhm()) : over / battery.ohm();
    battery.step(1, amps, tempC);
  }
  return amps;
}

function rest(battery: ReturnType<typeof makeBattery>, seconds: number, tempC = 25): void {
  for (let t = 0; t < seconds; t += 10) battery.step(10, 0, tempC);
}

describe('battery model', () => {
  it('rests where the acid density of DOE-HDBK-1084-95 puts a flooded 12 V battery', () => {
    for (const [charge, volts] of [
      [1, 12.66],
      [0.75, 12.42],
      [0.5, 12.21],
      [0.25, 12.0],
      [0, 11.79],
    ])
      expect(6 * cellVolts('flooded', charge)).toBeCloseTo(volts, 2);
  });

  it('has its cells by system voltage', () => {
    expect([6, 12, 24].map((v) => cellCount('agm', v as 6 | 12 | 24))).toEqual([3, 6, 12]);
    expect(cellCount('lfp', 12)).toBe(4);
  });

  it('gives back what it took, less its losses', () => {
    const battery = makeBattery(FLOODED, 12, 25);
    for (let t = 0; t < 7 * HOUR; t += 10) battery.step(10, -1, 25);
    expect(battery.charge()).toBeCloseTo(0.8 - 7 / 70, 2);
  });

  it('takes less and less current at a regulated voltage', () => {
    const battery = makeBattery(FLOODED, 12, 25);
    const early = regulate(battery, 14.4, 60);
    const late = regulate(battery, 14.4, 2 * HOUR);
    const full = regulate(battery, 14.4, 10 * HOUR);
    expect(early).toBeGreaterThan(8);
    expect(late).toBeLessThan(early / 2);
    expect(full).toBeGreaterThan(0);
    expect(full).toBeLessThan(2.5);
  });

  it('reads high after charging and settles within hours', () => {
    const battery = makeBattery(FLOODED, 12, 25);
    regulate(battery, 14.4, HOUR);
    const settled = 6 * cellVolts('flooded', battery.charge());
    rest(battery, 60);
    expect(battery.emf() - settled).toBeGreaterThan(0.15);
    rest(battery, 8 * HOUR);
    expect(battery.emf() - settled).toBeLessThan(0.05);
  });

  it('loses surface charge to a load far sooner than to rest', () => {
    const resting = makeBattery(FLOODED, 12, 25);
    const loaded = makeBattery(FLOODED, 12, 25);
    for (const battery of [resting, loaded]) regulate(battery, 14.4, HOUR);
    for (let t = 0; t < 300; t++) loaded.step(1, -15, 25);
    rest(resting, 300 + HOUR);
    rest(loaded, HOUR);
    expect(loaded.emf()).toBeLessThan(resting.emf() - 0.1);
  });

  it('has more resistance in the cold and when empty', () => {
    const warm = makeBattery(FLOODED, 12, 25).ohm();
    expect(makeBattery(FLOODED, 12, -18).ohm() / warm).toBeCloseTo(1.68, 1);
    expect(makeBattery({ ...FLOODED, charge: 0.2 }, 12, 25).ohm()).toBeGreaterThan(warm);
  });

  it('can deliver the cold-cranking current of a battery of its size', () => {
    // EN 50342-1: a 70 Ah battery is commonly rated near 640 A: at −18 °C still 7.5 V after 10 s.
    const battery = makeBattery({ ...FLOODED, charge: 1 }, 12, -18);
    for (let t = 0; t < 10; t += 0.01) battery.step(0.01, -640, -18);
    expect(Math.abs(battery.emf() - 640 * battery.ohm() - 7.5)).toBeLessThan(0.5);
  });
});
