/** Simulated vehicles that are parked after a short trip each morning, and what goes on drawing in some stands and not in others. */
import { createAnalyser } from '../../src/analysis/analyse.ts';
import { drive, GOOD_SENSOR, QUICK_SETTLING } from '../../src/demo/parts.ts';
import type { Scenario } from '../../src/demo/scenario.ts';
import { simulate } from '../../src/demo/vehicle.ts';
import { cleanLog, sessionFor } from './session-for.ts';

export const HOUR = 3600;
export const DAY = 24 * HOUR;
export const MIN = 60;
/** From the begin of the log, on days 0, 1 and so on, s. */
export const keyOff = (day: number) => day * DAY + 2.5 * HOUR;
export const keyOn = (day: number) => day * DAY + 2 * HOUR;

export function mornings(days: number, changes: Partial<Scenario>): Scenario {
  return {
    stream: 815,
    start: Date.UTC(2026, 2, 2, 6) / 1000,
    seconds: days * DAY,
    powertrain: 'combustion',
    systemV: 12,
    battery: { chemistry: 'flooded', capacityAh: 74, charge: 0.9 },
    climate: { meanC: 11, swingC: 5, engineC: 20 },
    sleepA: 0.016,
    settling: QUICK_SETTLING,
    drives: Array.from({ length: days }, (_, k) => drive(keyOn(k), 30 * MIN)),
    source: { volts: 14.3, maxA: 110, perC: -0.01, rippleV: 0.03, rippleA: 0.8, stepsA: 8 },
    wakes: [{ timing: { everyS: 3 * HOUR, jitterS: 60 }, stages: [{ amps: 1.5, seconds: 90 }] }],
    channels: [],
    sensor: GOOD_SENSOR,
    logging: { stepS: 10 },
    ...changes,
  };
}

/** Keeps the vehicle awake. */
export const load = (from: number, to: number, amps: number) => ({ from, to, amps, awake: true });

export function analysed(scenario: Scenario) {
  const session = sessionFor(scenario);
  const analyser = createAnalyser(session);
  for (const block of simulate(scenario).samples) analyser.push(block);
  return { session, analysis: analyser.finish(cleanLog([])) };
}
