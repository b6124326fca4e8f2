/** Small sessions, a few thousand rows each, one trait a session; simulated when a test asks for them. */
import { PLAIN_STYLE } from '../../src/demo/log-text.ts';
import { alternator, converter, drive, GOOD_SENSOR, PETROL_CRANK, QUICK_SETTLING } from '../../src/demo/parts.ts';
import type { DriveSpec, Scenario } from '../../src/demo/scenario.ts';
import type { DemoSession } from '../../src/demo/write-session.ts';

export const MIN = 60;
export const HOUR = 3600;

/** Nine hours from 06:00 UTC: parked, a drive of half an hour after two hours, parked to the end. */
const PLAIN: Scenario = {
  stream: 501,
  start: Date.UTC(2026, 2, 3, 6) / 1000,
  seconds: 9 * HOUR,
  powertrain: 'combustion',
  systemV: 12,
  battery: { chemistry: 'flooded', capacityAh: 70, charge: 0.85 },
  climate: { meanC: 12, swingC: 4, engineC: 20 },
  sleepA: 0.022,
  settling: QUICK_SETTLING,
  drives: [drive(2 * HOUR, 30 * MIN)],
  source: alternator(),
  wakes: [{ timing: { at: [6 * HOUR] }, stages: [{ amps: 2.5, seconds: 120 }] }],
  channels: [{ label: 'Tracker supply', measures: 'supply' }],
  sensor: GOOD_SENSOR,
  logging: { stepS: 5, crank: { stepS: 0.02, beforeS: 2, afterS: 4 } },
};

/** The converter is on while the vehicle is ready; no starter. */
const READY: DriveSpec = {
  at: 2 * HOUR,
  seconds: 30 * MIN,
  unlockS: 35,
  unlockA: 4.4,
  keyOnS: 3,
  keyOnA: 11,
  cranks: [],
  runningA: 24,
};

const CONVERTED: Partial<Scenario> = {
  drives: [READY],
  source: converter(),
  battery: { chemistry: 'agm', capacityAh: 50, charge: 0.85 },
  topUps: [{ from: 7 * HOUR, to: 7 * HOUR + 40 * MIN, volts: 14.2, maxA: 30, amps: 5 }],
};

export const SMALL_SESSIONS = {
  plain: {},
  'without current': { sensor: { ...GOOD_SENSOR, hasCurrent: false } },
  'begins in a drive and ends asleep': {
    logging: { ...PLAIN.logging, gaps: [{ from: 0, to: 2 * HOUR + 10 * MIN }] },
  },
  hybrid: { ...CONVERTED, powertrain: 'hybrid' },
  electric: { ...CONVERTED, powertrain: 'electric' },
  '24 V': {
    systemV: 24,
    battery: { chemistry: 'flooded', capacityAh: 180, charge: 0.85 },
    source: alternator(2),
    sensor: { ...GOOD_SENSOR, noiseV: 2 * GOOD_SENSOR.noiseV },
  },
  'twelve minutes': {
    seconds: 12 * MIN,
    drives: [drive(5 * MIN, 3 * MIN, { cranks: [PETROL_CRANK] })],
    wakes: [],
    logging: { stepS: 1, crank: PLAIN.logging.crank },
  },
  'charger in mid-log': { chargers: [{ from: 4.5 * HOUR, to: 7 * HOUR, volts: 14.2, maxA: 8 }], wakes: [] },
  'battery off for a while': {
    disconnected: [{ from: 5 * HOUR, to: 5.5 * HOUR, boot: [{ amps: 3, seconds: 90 }] }],
    wakes: [],
  },
  'reversed sensor': { sensor: { ...GOOD_SENSOR, reversed: true } },
  'coarse sensor, no temperature': {
    sensor: { ...GOOD_SENSOR, resolutionA: 0.1, noiseA: 0.03, resolutionV: 0.05, hasTemperature: false },
  },
  'one step a minute': { logging: { stepS: 60 }, seconds: 48 * HOUR },
  'hole while asleep': { logging: { ...PLAIN.logging, gaps: [{ from: 4.5 * HOUR, to: 5.2 * HOUR }] } },
} as const satisfies Readonly<Record<string, Partial<Scenario>>>;

export type SmallSession = keyof typeof SMALL_SESSIONS;

export function smallSession(name: SmallSession): DemoSession {
  return {
    scenario: { ...PLAIN, ...SMALL_SESSIONS[name] },
    style: { ...PLAIN_STYLE, split: 'one' },
    words: {
      session: { id: 'small', title: 'A small session', purpose: 'baseline', timezone: 'UTC' },
      vehicle: { description: 'Invented vehicle' },
      battery: {},
      accuracy: { voltage: '0.1 % + 5 mV', current: '0.5 % + 2 mA', range: '1000 A' },
    },
  };
}
