/** The demo: an invented workshop, a van before and after its repair, and a healthy electric car for comparison. */
import { join } from 'node:path';
import { PLAIN_STYLE } from './log-text.ts';
import { alternator, converter, DIESEL_CRANK, drive, GOOD_SENSOR, QUICK_SETTLING, remoteWakes } from './parts.ts';
import type { DriveSpec, Scenario } from './scenario.ts';
import { type DemoIo, type DemoSession, type SessionWords, writeSession } from './write-session.ts';

const MIN = 60;
const HOUR = 3600;
const DAY = 86400;
const ZONE = 'Europe/Dublin';
const ACCURACY = { voltage: '0.1 % + 5 mV', current: '0.5 % + 2 mA', range: '1000 A' };

/** Local time in March, before the clocks change, is UTC in Dublin. */
const utc = (text: string): number => Date.parse(`${text}Z`) / 1000;

const VAN_WORDS = {
  vehicle: { description: '2017 panel van, 2.0 diesel', registration: '171-D-00000', odometer: '84210 km' },
  battery: { cold_cranking: '680 A', cranking_standard: 'EN', reserve_capacity: '120 min', fitted: '2022-05' },
  accuracy: ACCURACY,
  limits: {
    parked_draw: { max: '50 mA', source: "Vehicle maker's service information" },
    sleep_within: { max: '30 min', source: "Vehicle maker's service information" },
  },
} satisfies Partial<SessionWords>;

const VAN_CRANK = { ...DIESEL_CRANK, seconds: 1.2 };

function vanDrive(at: number, seconds: number, differs: Partial<DriveSpec> = {}): DriveSpec {
  return drive(at, seconds, { cranks: [VAN_CRANK], glow: { amps: 55, seconds: 6 }, keyOnS: 5, ...differs });
}

const VAN: Omit<Scenario, 'stream' | 'start' | 'seconds' | 'battery' | 'sleepA' | 'drives' | 'wakes'> = {
  powertrain: 'combustion',
  systemV: 12,
  climate: { meanC: 7, swingC: 4, engineC: 20 },
  lamp: { amps: 0.018, onS: 0.06, everyS: 1.37 },
  settling: QUICK_SETTLING,
  source: alternator(),
  channels: [
    { label: 'Tracker supply', measures: 'supply' },
    { label: 'Load bay lamp', measures: 'supply', decoy: { timing: { meanEveryS: 13 * HOUR }, seconds: 150 } },
  ],
  sensor: GOOD_SENSOR,
  logging: { stepS: 1, crank: { stepS: 0.02, beforeS: 2, afterS: 4 } },
};

function complaint(): DemoSession {
  const start = utc('2026-03-03T17:40:00');
  const at = (text: string) => utc(text) - start;
  return {
    style: { ...PLAIN_STYLE, timezone: ZONE },
    scenario: {
      ...VAN,
      stream: 11,
      start,
      seconds: 5 * DAY,
      battery: { chemistry: 'flooded', capacityAh: 70, charge: 0.58, resistanceOhm: 0.0045 },
      sleepA: 0.061,
      fitting: [
        { amps: 5.8, seconds: 190 },
        { amps: 2.2, seconds: 400 },
        { amps: 0.42, seconds: 480 },
      ],
      drives: [
        vanDrive(at('2026-03-04T08:10:00'), 12 * MIN),
        vanDrive(at('2026-03-04T17:32:00'), 14 * MIN),
        vanDrive(at('2026-03-05T08:06:00'), 11 * MIN),
        vanDrive(at('2026-03-05T17:44:00'), 16 * MIN),
        vanDrive(at('2026-03-08T15:02:00'), 25 * MIN, { cranks: [{ ...VAN_CRANK, seconds: 2.9, rippleHz: 5.2 }] }),
      ],
      wakes: [
        {
          timing: { everyS: 37 * MIN, jitterS: 25 },
          stages: [
            { amps: 4.6, seconds: 3 },
            { amps: 2.7, seconds: 118 },
            { amps: 0.9, seconds: 34 },
          ],
          spread: 0.06,
          channel: 0,
        },
        remoteWakes([at('2026-03-06T11:20:00')]),
      ],
    },
    words: {
      ...VAN_WORDS,
      session: {
        id: 'harbour-lane-van-complaint',
        title: 'Flat after a weekend',
        purpose: 'complaint',
        concern: 'Will not start after two days parked',
        repair_order: 'HL-20431',
        technician: 'D. Okafor',
        timezone: ZONE,
      },
      install: {
        fittedAt: utc('2026-03-03T17:30:00'),
        removedAt: start + 5 * DAY,
        more: {
          memory_saver: { used: true, voltage_before: '12.2 V', voltage_during: '13.4 V' },
          clock_checked: true,
          amp_hours_cleared: true,
          current_sensor: { place: 'negative cable' },
        },
      },
      notes: [
        { at: utc('2026-03-03T17:52:00'), text: 'Locked with the remote, bonnet closed' },
        { at: utc('2026-03-06T11:20:00'), text: 'Unlocked and locked again to fetch papers, doors not opened' },
        { at: utc('2026-03-08T15:02:00'), text: 'Cranks slowly, starts at the first try' },
      ],
    },
  };
}

function repaired(): DemoSession {
  const start = utc('2026-03-17T16:45:00');
  const at = (text: string) => utc(text) - start;
  return {
    style: { ...PLAIN_STYLE, timezone: ZONE, gzip: true },
    scenario: {
      ...VAN,
      stream: 12,
      start,
      seconds: 4 * DAY,
      climate: { meanC: 9, swingC: 4, engineC: 20 },
      battery: { chemistry: 'flooded', capacityAh: 70, charge: 0.93, resistanceOhm: 0.0045 },
      sleepA: 0.018,
      fitting: [
        { amps: 5.8, seconds: 160 },
        { amps: 2.2, seconds: 380 },
        { amps: 0.42, seconds: 480 },
      ],
      drives: [
        vanDrive(at('2026-03-18T08:12:00'), 34 * MIN),
        vanDrive(at('2026-03-18T17:30:00'), 38 * MIN),
        vanDrive(at('2026-03-19T08:08:00'), 31 * MIN),
        vanDrive(at('2026-03-21T12:20:00'), 42 * MIN),
      ],
      wakes: [remoteWakes([at('2026-03-19T19:05:00'), at('2026-03-20T10:31:00')])],
    },
    words: {
      ...VAN_WORDS,
      session: {
        id: 'harbour-lane-van-repaired',
        title: 'After the tracker was replaced',
        purpose: 'after-repair',
        concern: 'Will not start after two days parked',
        repair_order: 'HL-20447',
        technician: 'D. Okafor',
        timezone: ZONE,
      },
      vehicle: { ...VAN_WORDS.vehicle, odometer: '84655 km' },
      install: {
        fittedAt: utc('2026-03-17T16:30:00'),
        removedAt: start + 4 * DAY,
        more: {
          memory_saver: { used: true, voltage_before: '12.6 V', voltage_during: '13.4 V' },
          clock_checked: true,
          amp_hours_cleared: true,
          current_sensor: { place: 'negative cable' },
        },
      },
      notes: [
        {
          at: utc('2026-03-17T16:50:00'),
          text: 'Tracker replaced and its supply moved to the switched fuse; battery charged overnight',
        },
        { at: utc('2026-03-17T16:54:00'), text: 'Locked with the remote, bonnet closed' },
      ],
    },
  };
}

/** The converter is on while the car is ready: no crank, and a drive begins with the voltage's rise. */
function readyDrive(at: number, seconds: number): DriveSpec {
  return { at, seconds, unlockS: 35, unlockA: 4.4, keyOnS: 3, keyOnA: 11, cranks: [], runningA: 24 };
}

function electric(): DemoSession {
  const start = utc('2026-03-10T18:05:00');
  const at = (text: string) => utc(text) - start;
  const topUp = (text: string, seconds: number) => ({
    from: at(text),
    to: at(text) + seconds,
    volts: 14.2,
    maxA: 32,
    amps: 5.5,
  });
  return {
    style: { ...PLAIN_STYLE, time: 'DD/MM/YYYY HH:mm:ss.SSS', timezone: ZONE },
    scenario: {
      stream: 13,
      start,
      seconds: 4 * DAY,
      powertrain: 'electric',
      systemV: 12,
      battery: { chemistry: 'agm', capacityAh: 50, charge: 0.86 },
      climate: { meanC: 9, swingC: 4, engineC: 4 },
      sleepA: 0.014,
      settling: [
        { amps: 6.4, seconds: 40 },
        { amps: 2.8, seconds: 95 },
        { amps: 0.8, seconds: 150 },
      ],
      fitting: [
        { amps: 4.9, seconds: 240 },
        { amps: 0.8, seconds: 150 },
      ],
      drives: [
        readyDrive(at('2026-03-11T07:50:00'), 26 * MIN),
        readyDrive(at('2026-03-11T17:20:00'), 31 * MIN),
        readyDrive(at('2026-03-13T09:15:00'), 48 * MIN),
      ],
      source: converter(),
      wakes: [
        {
          timing: { meanEveryS: 9 * HOUR },
          stages: [
            { amps: 2.2, seconds: 3 },
            { amps: 1.1, seconds: 38 },
          ],
          spread: 0.15,
        },
      ],
      topUps: [topUp('2026-03-12T14:10:00', 55 * MIN), topUp('2026-03-14T06:40:00', 48 * MIN)],
      channels: [],
      sensor: GOOD_SENSOR,
      logging: { stepS: 2 },
    },
    words: {
      session: {
        id: 'harbour-lane-electric-baseline',
        title: 'Baseline of an electric hatchback',
        purpose: 'baseline',
        repair_order: 'HL-20438',
        technician: 'M. Keane',
        timezone: ZONE,
      },
      vehicle: { description: '2022 electric hatchback', registration: '221-D-00000', odometer: '31870 km' },
      battery: { fitted: '2022-03' },
      accuracy: ACCURACY,
      install: {
        fittedAt: utc('2026-03-10T18:00:00'),
        removedAt: start + 4 * DAY,
        more: {
          memory_saver: { used: false },
          clock_checked: true,
          amp_hours_cleared: true,
          current_sensor: { place: 'negative cable' },
        },
      },
      notes: [
        { at: utc('2026-03-10T18:09:00'), text: 'Locked, bonnet closed, not connected to a charge point' },
        { at: utc('2026-03-13T10:20:00'), text: 'Parked in the yard until the logger came off' },
      ],
    },
  };
}

export function demoSessions(): readonly DemoSession[] {
  return [complaint(), repaired(), electric()];
}

/** Writes the three demo sessions, each in a folder below `folder` named by its id; returns those folders. */
export async function writeDemo(folder: string, io: DemoIo): Promise<string[]> {
  const folders: string[] = [];
  for (const session of demoSessions()) {
    const path = join(folder, session.words.session.id);
    await writeSession(path, session, io);
    folders.push(path);
  }
  return folders;
}
