/** A short, plain scenario that tests change where they need to. */
import { alternator, drive, GOOD_SENSOR, QUICK_SETTLING } from '../../src/demo/parts.ts';
import type { Scenario } from '../../src/demo/scenario.ts';
import type { Truth } from '../../src/demo/truth.ts';
import { simulate } from '../../src/demo/vehicle.ts';

export const HOUR = 3600;

export const IDEAL_SENSOR = {
  ...GOOD_SENSOR,
  gain: 1,
  offsetA: 0,
  driftA: 0,
  noiseA: 0,
  noiseV: 0,
  resolutionA: 0,
  resolutionV: 0,
} as const;

export const SMALL: Scenario = {
  stream: 42,
  start: Date.UTC(2026, 2, 3, 6) / 1000,
  seconds: 8 * HOUR,
  powertrain: 'combustion',
  systemV: 12,
  battery: { chemistry: 'flooded', capacityAh: 70, charge: 0.8 },
  climate: { meanC: 10, swingC: 4, engineC: 20 },
  sleepA: 0.025,
  settling: QUICK_SETTLING,
  drives: [drive(2 * HOUR, 1800)],
  source: { ...alternator(), rippleA: 0, rippleV: 0 },
  wakes: [],
  channels: [],
  sensor: IDEAL_SENSOR,
  logging: { stepS: 1 },
};

export interface Log {
  readonly t: number[];
  readonly v: number[];
  readonly i: number[];
  readonly ch: number[][];
  readonly truth: Truth;
}

/** The whole log in memory: only for short ones. */
export function logOf(scenario: Scenario): Log {
  const simulation = simulate(scenario);
  const [t, v, i]: number[][] = [[], [], []];
  const ch: number[][] = scenario.channels.map(() => []);
  for (const block of simulation.samples) {
    for (let k = 0; k < block.n; k++) {
      t.push(block.t[k]);
      v.push(block.v[k]);
      i.push(block.i[k]);
      ch.forEach((column, c) => {
        column.push(block.ch[c][k]);
      });
    }
  }
  return { t, v, i, ch, truth: simulation.truth() };
}
