/** A small session as the analysis and the checks would hand it on; prose of its checks lies in `content/` beside this file. */

import { fileURLToPath } from 'node:url';
import type { Analysis } from '../../src/analysis/model.ts';
import type { Finding } from '../../src/checks/check.ts';
import type { Session } from '../../src/manifest/session.ts';
import { circuitLinks } from '../../src/measures/circuits/links.ts';
import { wakePatterns } from '../../src/measures/wakes/patterns.ts';
import { loadContent } from '../../src/node/content.ts';
import { buildReport } from '../../src/report/build-report.ts';
import type { Report } from '../../src/report/contract/report.ts';
import type { Content } from '../../src/report/words/content.ts';

export const T0 = Date.UTC(2026, 2, 3, 17, 40) / 1000;
const H = 3600;

export const sampleContent = (): Content => loadContent('en', [fileURLToPath(new URL('content', import.meta.url))]);

export const session: Session = {
  folder: '/sessions/harbour-van-march',
  id: 'harbour-van-march',
  title: 'Flat after a weekend',
  purpose: 'complaint',
  concern: 'Will not start after two days parked',
  repairOrder: 'HL-20431',
  technician: 'D. Okafor',
  timezone: 'Europe/Dublin',
  vehicle: {
    description: '2017 panel van, 2.0 diesel',
    registration: '171-D-00000',
    odometerKm: 84210,
    powertrain: 'combustion',
    systemV: 12,
  },
  battery: { chemistry: 'flooded', capacityAh: 70, coldCrankingA: 680, crankingStandard: 'EN', fitted: '2022-05' },
  log: {
    files: ['log/*.csv'],
    skipRows: 0,
    columns: {
      time: { name: 'time', format: 'iso' },
      voltage: { name: 'battery_v', unit: 'V', accuracy: { relative: 0.001, absolute: 0.01 } },
      current: { name: 'battery_a', unit: 'A', positive: 'charging', accuracy: { relative: 0.01, absolute: 0.005 } },
    },
    channels: [{ name: 'in2_v', label: 'Tracker supply', unit: 'V', activeAboveV: 6, measures: 'supply' }],
  },
  limits: { parkedDraw: { value: 0.05, source: 'Vehicle maker’s service information' } },
  install: {
    fittedAtMs: (T0 - 600) * 1000,
    memorySaver: { used: true, voltageBeforeV: 12.5, voltageDuringV: 13.4 },
    clockChecked: true,
    currentSensorPlace: 'negative cable',
  },
  notes: [{ atMs: (T0 + H) * 1000, text: 'Locked with the remote, bonnet closed' }],
  photos: [
    { file: 'photos/battery.jpg', atMs: (T0 + 300) * 1000, atFrom: 'manifest', text: 'Negative cable with sensor' },
  ],
};

const NONE = new Float64Array();
const period = (kind: Analysis['periods'][number]['kind'], start: number, end: number, chargeOutAh: number) => {
  return { kind, start, end, chargeInAh: kind === 'driving' ? 2.5 : 0, chargeOutAh, evidence: [], certainty: 1 };
};

export const analysis: Analysis = {
  log: {
    files: [{ name: 'log/one.csv', bytes: 41_320_000, sha256: 'ab'.repeat(32), rows: 626_061 }],
    rows: 626_061,
    rowsRejected: 2,
    faults: [
      {
        kind: 'gap',
        at: T0 + 3 * H,
        count: 1,
        seconds: 65,
        file: 'log/one.csv',
        line: 12_044,
        found: '65 s without a row',
      },
    ],
    gaps: [],
    understood: [{ what: 'delimiter', how: 'comma, from the file' }],
  },
  start: T0,
  end: T0 + 50 * H,
  coveredS: 50 * H - 65,
  missingS: 65,
  medianStepS: 1,
  stepsS: { driving: 1, parked: 1, awake: 1 },
  has: { current: true, temperature: false, channels: [true] },
  resolution: { v: 0.001, i: 0.001, temp: 0 },
  noiseA: 0.0012,
  temperature: null,
  // A report is made from events; only charts read tiles.
  tiles: { n: 0 } as Analysis['tiles'],
  periods: [
    period('driving', T0, T0 + H, 0.01),
    period('settling', T0 + H, T0 + 1.4 * H, 0.9),
    period('asleep', T0 + 1.4 * H, T0 + 30 * H, 2.4),
    period('awake', T0 + 30 * H, T0 + 30.2 * H, 0.3),
    period('asleep', T0 + 30.2 * H, T0 + 50 * H, 1.6),
  ],
  stands: [
    {
      start: T0 + H,
      end: T0 + 50 * H,
      keyOffInLog: true,
      keyOnInLog: false,
      timeToSleepS: 0.4 * H,
      asleepS: 48.4 * H,
      awakeS: 0.2 * H,
      settlingS: 0.4 * H,
      unseenA: 0,
      pulses: { seen: 0, chargeAs: 0 },
      sleepDrawA: { value: 0.0831234567, u: 0.00105 },
      meanDrawA: { value: 0.106, u: 0.002 },
      chargeOutAh: 5.2,
      chargeOutU: { u: 0.03, k: 2 },
      chargeInAh: 0,
      wakes: 1,
      countedS: 49 * H,
      rest: {
        at: T0 + 30 * H,
        volts: { value: 12.31, u: 0.01 },
        sinceChargeS: 29 * H,
        sinceChargeInLog: true,
        drawA: 0.083,
        temperatureC: null,
      },
    },
  ],
  topUps: [],
  wakes: [
    {
      start: T0 + 30 * H,
      seconds: 720,
      peakA: 4.2,
      meanA: 1.5,
      chargeAh: 0.3,
      stand: 0,
      channels: ['Tracker supply'],
    },
  ],
  events: [],
  cranks: [
    {
      at: T0 + 2,
      seconds: 0.84,
      voltsBefore: 12.5,
      voltsMin: 9.1,
      voltsCranking: { value: 10.2, u: 0.02 },
      ampsPeak: 512,
      resistanceOhm: { value: 0.0051, u: 0.0002 },
      temperatureC: null,
      started: true,
      wave: { t: NONE, v: NONE, i: NONE },
    },
  ],
  drives: [
    {
      start: T0 + 5,
      end: T0 + H,
      voltsMedian: 14.2,
      chargeInAh: 2.5,
      chargeOutAh: 0.01,
      voltsHigh: { value: 14.5, u: 0.01 },
      voltsLow: { value: 13.9, u: 0.01 },
      temperatureC: null,
      meanA: 2.5,
    },
  ],
  totals: {
    chargeInAh: 2.5,
    chargeOutAh: 5.21,
    chargeInU: { u: 0.1, k: 2 },
    chargeOutU: { u: 0.1, k: 2 },
    drivingS: H,
    parkedS: 49 * H,
    asleepS: 48.4 * H,
    awakeS: 0.2 * H,
    settlingS: 0.4 * H,
    chargerS: 0,
    chargerInAh: 0,
    disconnectedS: 0,
  },
  direction: { flipped: false, turned: null, agree: 2, against: 0, evidence: [] },
};

export const drawFault: Finding = {
  check: 'parked-draw',
  status: 'fault',
  measured: { value: 0.0831234567, unit: 'A', uncertainty: 0.0021 },
  limit: { value: 0.05, unit: 'A', source: 'Vehicle maker’s service information' },
  facts: { drawA: 0.0831234567, drawUA: 0.0021, stands: 1, asleepS: 48.4 * H, channel: 'Tracker supply' },
  evidence: [{ chart: 'parked-draw', from: T0 + H, to: T0 + 50 * H }],
  cautions: ['acid', 'hydrogen'],
};
export const plain = (check: string, status: Finding['status'], more: Partial<Finding> = {}): Finding => {
  return { check, status, cautions: [], ...more };
};

export const findings: readonly Finding[] = [
  drawFault,
  plain('sleep-time', 'clear'),
  plain('wake-ups', 'watch', { follows: 'parked-draw' }),
  plain('resting-charge', 'watch'),
  plain('crank-voltage', 'undecided', { reason: 'no-current' }),
  plain('log-coverage', 'clear'),
];

wakePatterns.given(analysis, [
  {
    count: 1,
    periodS: null,
    jitterS: null,
    seconds: 720,
    meanA: 1.5,
    chargeAhPerDay: 0.15,
    channel: 'Tracker supply',
    parts: [0],
  },
]);
circuitLinks.given(analysis, [
  {
    channel: 'Tracker supply',
    wakesWith: 1,
    wakesSeen: 1,
    chargeShare: 0.9,
    chance: 0.02,
    lagS: null,
    match: 1,
    settlings: null,
  },
]);

export function sampleReport(more: { session?: Partial<Session>; findings?: readonly Finding[] } = {}): Report {
  return buildReport({
    session: { ...session, ...more.session },
    analysis,
    findings: more.findings ?? findings,
    language: 'en',
    version: '0.1.0',
    content: sampleContent(),
  });
}
