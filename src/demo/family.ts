/**
 * A family: six healthy electric cars of one model from Monday to Friday, and a seventh that came in with a complaint and is unlike them
 * though no limit is crossed. They show what a portrait holds, what is normal for a model, and a complaint held against it.
 */
import { join } from 'node:path';
import { PLAIN_STYLE } from './log-text.ts';
import { converter, GOOD_SENSOR } from './parts.ts';
import { normalPairAt } from './random.ts';
import type { DriveSpec, Scenario, Stage } from './scenario.ts';
import { type DemoIo, type DemoSession, writeSession } from './write-session.ts';

const MIN = 60;
const HOUR = 3600;
const DAY = 86_400;
const ZONE = 'Europe/Dublin';
const VEHICLES = 7;
/** The one that is unlike the others. */
const ODD = 6;
/** Vehicles of one model differ by about this much. */
const SPREAD = 0.04;

/** Monday; in March before the clocks change local time in Dublin is UTC. */
const START = Date.parse('2026-03-09T05:30:00Z') / 1000;

/** About 1, another for each vehicle and thing. */
function about1(vehicle: number, thing: number): number {
  const pair = new Float64Array(2);
  normalPairAt(911, vehicle * 64 + thing, pair);
  return 1 + SPREAD * Math.max(-1.6, Math.min(1.6, pair[0] ?? 0));
}

function drive(at: number, seconds: number): DriveSpec {
  return { at, seconds, unlockS: 30, unlockA: 4.2, keyOnS: 4, keyOnA: 11, cranks: [], runningA: 24 };
}

/** To work and home, each day a little different. */
function drives(vehicle: number): DriveSpec[] {
  return [0, 1, 2, 3, 4].flatMap((day) => {
    const morning = day * DAY + 2.2 * HOUR + 12 * MIN * (about1(vehicle, 10 + day) - 1) * 10;
    const evening = day * DAY + 11.6 * HOUR + 20 * MIN * (about1(vehicle, 20 + day) - 1) * 10;
    return [
      drive(Math.round(morning), Math.round(27 * MIN * about1(vehicle, 30 + day))),
      drive(Math.round(evening), Math.round(31 * MIN * about1(vehicle, 40 + day))),
    ];
  });
}

function scenario(vehicle: number): Scenario {
  const isOdd = vehicle === ODD;
  const all = drives(vehicle);
  const settling: Stage[] = [
    { amps: 6.1 * about1(vehicle, 1), seconds: Math.round(40 * about1(vehicle, 2)) },
    { amps: 2.4 * about1(vehicle, 3), seconds: Math.round(150 * about1(vehicle, 4)) },
    { amps: 0.62 * about1(vehicle, 5), seconds: Math.round((isOdd ? 1150 : 420) * about1(vehicle, 6)) },
  ];
  const everyS = Math.round(4 * HOUR * about1(vehicle, 7));
  const lengthS = Math.round((isOdd ? 44 : 25) * MIN * about1(vehicle, 8));
  const topUps = all.flatMap(({ at, seconds }, k) => {
    const keyOff = at + seconds;
    const until = (all[k + 1]?.at ?? 5 * DAY) - 2 * MIN;
    const found = [];
    for (let from = keyOff + everyS; from + lengthS < until; from += everyS)
      found.push({ from, to: from + lengthS, volts: 14.2, maxA: 30, amps: 4.5 });
    return found;
  });
  return {
    stream: 40 + vehicle,
    start: START,
    seconds: 5 * DAY,
    powertrain: 'electric',
    systemV: 12,
    battery: { chemistry: 'agm', capacityAh: 50, charge: 0.86 },
    climate: { meanC: 9, swingC: 4, engineC: 4 },
    sleepA: (isOdd ? 0.026 : 0.0145) * about1(vehicle, 9),
    settling,
    drives: all,
    source: converter(),
    wakes: [],
    topUps,
    channels: [
      {
        label: 'Gateway supply',
        measures: 'supply',
        onWhileDriving: true,
        afterRunS: Math.round(190 * about1(vehicle, 50)),
      },
      { label: 'Cabin fan', measures: 'supply', onWhileDriving: true, afterRunS: Math.round(38 * about1(vehicle, 51)) },
    ],
    sensor: GOOD_SENSOR,
    logging: { stepS: 5 },
  };
}

function sessionOf(vehicle: number): DemoSession {
  const number = String(vehicle + 1).padStart(2, '0');
  return {
    style: { ...PLAIN_STYLE, timezone: ZONE, split: 'one' },
    scenario: scenario(vehicle),
    words: {
      session: {
        id: `harbour-lane-family-${number}`,
        title: vehicle === ODD ? '12 V battery warning' : `Baseline ${number} of the model`,
        purpose: vehicle === ODD ? 'complaint' : 'baseline',
        ...(vehicle === ODD ? { concern: 'The display warned of a low 12 V battery once' } : {}),
        repair_order: `HL-206${number}`,
        technician: 'M. Keane',
        timezone: ZONE,
      },
      vehicle: {
        description: '2023 electric hatchback',
        model: 'Electric hatchback, 2023',
        registration: `231-D-000${number}`,
        odometer: `${9000 + 1730 * vehicle} km`,
      },
      battery: { fitted: '2023-02' },
      accuracy: { voltage: '0.1 % + 5 mV', current: '0.5 % + 2 mA', range: '1000 A' },
      install: {
        fittedAt: START - 10 * MIN,
        removedAt: START + 5 * DAY,
        more: {
          memory_saver: { used: false },
          clock_checked: true,
          amp_hours_cleared: true,
          current_sensor: { place: 'negative cable' },
        },
      },
      notes: [],
    },
  };
}

export const familySessions = (): readonly DemoSession[] => Array.from({ length: VEHICLES }, (_, k) => sessionOf(k));

/** Writes the family's sessions, each in a folder below `folder` named by its id; returns those folders. */
export async function writeFamily(folder: string, io: DemoIo): Promise<string[]> {
  const folders: string[] = [];
  for (const session of familySessions()) {
    const path = join(folder, session.words.session.id);
    await writeSession(path, session, io);
    folders.push(path);
  }
  return folders;
}
