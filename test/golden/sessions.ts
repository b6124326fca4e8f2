/**
 * Whole sessions whose reports are kept: one kind of vehicle, battery or log each, with figures near the limits, so that a
 * threshold or an uncertainty that moves shows. Simulated, the same on every machine.
 */
import { PLAIN_STYLE } from '../../src/demo/log-text.ts';
import { alternator, converter, drive, GOOD_SENSOR, PETROL_CRANK, QUICK_SETTLING } from '../../src/demo/parts.ts';
import type { DriveSpec, Scenario } from '../../src/demo/scenario.ts';
import type { DemoSession, SessionWords } from '../../src/demo/write-session.ts';

const MIN = 60;
const HOUR = 3600;

/** Thirty-four hours from 05:00 UTC with three drives: asleep for long enough between the last two to tell a charge. */
const PLAIN: Scenario = {
  stream: 901,
  start: Date.UTC(2026, 2, 9, 5) / 1000,
  seconds: 34 * HOUR,
  powertrain: 'combustion',
  systemV: 12,
  battery: { chemistry: 'flooded', capacityAh: 70, charge: 0.84 },
  climate: { meanC: 9, swingC: 4, engineC: 18 },
  sleepA: 0.023,
  settling: QUICK_SETTLING,
  drives: [drive(1.5 * HOUR, 28 * MIN), drive(11 * HOUR, 22 * MIN), drive(31 * HOUR, 25 * MIN)],
  source: alternator(),
  wakes: [],
  channels: [],
  sensor: GOOD_SENSOR,
  logging: { stepS: 2, crank: { stepS: 0.02, beforeS: 2, afterS: 4 } },
};

const each = (differs: Partial<DriveSpec>) => PLAIN.drives.map((one) => ({ ...one, ...differs }));
const worn = { seconds: 1.8, lockedOhm: 0.009, turningOhm: 0.034, ripple: 0.2, rippleHz: 5.5, spinS: 0.12 };

type Kind = Partial<Scenario> & { readonly rating?: SessionWords['battery']; readonly limits?: SessionWords['limits'] };

export const SESSIONS: Readonly<Record<string, Kind>> = {
  sound: { rating: { cold_cranking: '640 A', cranking_standard: 'EN', reserve_capacity: '120 min' } },
  'draw-near-limit': { sleepA: 0.0535, limits: { parked_draw: { max: '50 mA', source: 'Service information' } } },
  'wakes-by-a-clock': {
    wakes: [
      { timing: { everyS: 37 * MIN, jitterS: 20 }, stages: [{ amps: 2.4, seconds: 100 }], spread: 0.05, channel: 0 },
    ],
    channels: [
      { label: 'Tracker supply', measures: 'supply' },
      { label: 'Radio supply', measures: 'supply', decoy: { timing: { meanEveryS: 4 * HOUR }, seconds: 90 } },
    ],
  },
  'load-that-stays': {
    drives: PLAIN.drives.map((one, k) =>
      k === 1 ? { ...one, held: { amps: 1.9, seconds: 5 * HOUR, channel: 0 } } : one,
    ),
    channels: [{ label: 'Blower supply', measures: 'supply' }],
  },
  'late-sleep': { settling: [...QUICK_SETTLING, { amps: 0.6, seconds: 75 * MIN }] },
  'worn-in-the-cold': {
    battery: { chemistry: 'flooded', capacityAh: 70, charge: 0.72, resistanceOhm: 0.0105 },
    climate: { meanC: -9, swingC: 3, engineC: 10 },
    drives: each({ cranks: [worn] }),
    rating: { cold_cranking: '640 A', cranking_standard: 'EN' },
  },
  'low-in-the-frost': {
    battery: { chemistry: 'flooded', capacityAh: 70, charge: 0.24 },
    climate: { meanC: -13, swingC: 2, engineC: 3 },
    drives: each({ seconds: 6 * MIN, cranks: [{ ...PETROL_CRANK, turningOhm: 0.12 }] }),
  },
  'charges-too-high': {
    source: { ...alternator(), volts: 15.6, perC: -0.002 },
    climate: { meanC: 30, swingC: 4, engineC: 22 },
  },
  'charges-nothing': {
    battery: { chemistry: 'flooded', capacityAh: 70, charge: 0.7 },
    source: { ...alternator(), volts: 12.3 },
    drives: each({ runningA: 22 }),
  },
  'charges-little': { drives: each({ seconds: 7 * MIN }), sleepA: 0.09 },
  'drained-in-a-stand': {
    battery: { chemistry: 'agm', capacityAh: 60, charge: 0.35 },
    drives: [drive(1.5 * HOUR, 8 * MIN)],
    sleepA: 1.1,
  },
  'electric-with-top-up': {
    powertrain: 'electric',
    battery: { chemistry: 'lfp', capacityAh: 45, charge: 0.6 },
    source: converter(),
    drives: each({ cranks: [], runningA: 24 }),
    topUps: [{ from: 20 * HOUR, to: 20 * HOUR + 45 * MIN, volts: 14.1, maxA: 25, amps: 4 }],
  },
  'two-batteries': {
    systemV: 24,
    battery: { chemistry: 'flooded', capacityAh: 170, charge: 0.8 },
    source: alternator(2),
    sensor: { ...GOOD_SENSOR, noiseV: 0.004 },
  },
  'poor-sensor-slow-log': {
    sensor: {
      ...GOOD_SENSOR,
      gain: 0.985,
      offsetA: 0.01,
      noiseA: 0.02,
      resolutionA: 0.1,
      resolutionV: 0.05,
      hasTemperature: false,
    },
    logging: { stepS: 20 },
  },
  'faulty-log': {
    sensor: { ...GOOD_SENSOR, rangeA: 200, reversed: true },
    logging: { ...PLAIN.logging, gaps: [{ from: 14 * HOUR, to: 16 * HOUR }] },
    chargers: [{ from: 21 * HOUR, to: 23 * HOUR, volts: 14.3, maxA: 9 }],
    disconnected: [{ from: 25 * HOUR, to: 25.3 * HOUR, boot: [{ amps: 2.5, seconds: 80 }] }],
  },
};

export function goldenSession(name: string): DemoSession {
  const { rating = {}, limits, ...differs } = SESSIONS[name];
  const isPoor = (differs.sensor?.resolutionA ?? 0) > 0.01;
  return {
    scenario: { ...PLAIN, ...differs },
    style: { ...PLAIN_STYLE, split: 'one' },
    words: {
      session: { id: name, title: name, purpose: 'complaint', timezone: 'UTC' },
      vehicle: { description: 'Invented vehicle' },
      battery: rating,
      ...(limits && { limits }),
      accuracy: {
        voltage: '0.1 % + 5 mV',
        current: isPoor ? '2 % + 30 mA' : '0.5 % + 2 mA',
        range: `${differs.sensor?.rangeA ?? 1000} A`,
      },
    },
  };
}
