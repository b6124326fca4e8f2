/** A session of a few stretches, each at the voltages, currents and temperatures of a published table, through the program to its report. */
import { mkdirSync, mkdtempSync, rmSync, writeFileSync } from 'node:fs';
import { tmpdir } from 'node:os';
import { join } from 'node:path';
import { nodeFiles } from '../../src/base/disk/node-files.ts';
import { runChecks } from '../../src/checks/run.ts';
import { readSession } from '../../src/manifest/read-session.ts';
import { loadContent } from '../../src/node/content.ts';
import { readLogs } from '../../src/node/make-report.ts';
import { buildReport } from '../../src/report/build-report.ts';
import type { Report } from '../../src/report/contract/report.ts';

export interface Stretch {
  readonly seconds: number;
  readonly stepS: number;
  readonly v: number;
  /** Positive into the battery. */
  readonly i: number;
  readonly c: number;
  /** Of a channel. */
  readonly drop?: number;
}

const HOUR = 3600;
const content = loadContent('en');

/** Asleep, with the last volts of it as given. */
export const rest = (hours: number, v: number, c = 25, i = -0.02): Stretch[] => [
  { seconds: hours * HOUR, stepS: 30, v, i, c },
];

/** Key on, the starter's inrush and its plateau at `crankV` and `amps`. */
export function start(c = 20, { crankV = 10.4, amps = 220, restV = 12.6, drop = 0 } = {}): Stretch[] {
  const at = (seconds: number, i: number, v: number): Stretch => ({
    seconds,
    stepS: 0.02,
    v,
    i: -i,
    c,
    drop: (drop * i) / amps,
  });
  const ohm = (restV - crankV) / amps;
  return [
    { seconds: 6, stepS: 1, v: restV - 8 * ohm, i: -8, c },
    at(1.2, 8, restV - 8 * ohm),
    at(0.06, 2.2 * amps, restV - 2.2 * amps * ohm),
    at(0.06, 1.5 * amps, restV - 1.5 * amps * ohm),
    // Compressions: the current ripples, and the voltage with it.
    ...Array.from({ length: 20 }, (_, k) => {
      const i = amps * (1 + (k % 2 ? 0.1 : -0.1));
      return at(0.06, i, restV - i * ohm);
    }),
  ];
}

export const run = (minutes: number, v: number, c = 20, i = 6): Stretch[] => [
  { seconds: 20, stepS: 1, v: Math.min(v, 13.6), i: 25, c },
  { seconds: minutes * 60, stepS: 1, v, i, c },
];

/** Key off: lights and modules, one after another. */
export const shutdown = (v: number, c = 20): Stretch[] => [
  { seconds: 40, stepS: 2, v: v - 0.1, i: -7, c },
  { seconds: 240, stepS: 5, v: v - 0.02, i: -1.6, c },
  { seconds: 300, stepS: 5, v, i: -0.4, c },
];

export interface Told {
  readonly chemistry?: string;
  readonly capacityAh?: number;
  readonly battery?: readonly string[];
  readonly limits?: readonly string[];
  readonly current?: string;
  readonly voltage?: string;
  readonly channel?: boolean;
}

export async function reportOf(stretches: readonly Stretch[], told: Told = {}): Promise<Report> {
  const folder = mkdtempSync(join(tmpdir(), 'standstill-story-'));
  try {
    mkdirSync(join(folder, 'log'));
    writeFileSync(join(folder, 'session.yaml'), manifest(told));
    writeFileSync(join(folder, 'log', 'log.csv'), rows(stretches, told.channel === true));
    const session = readSession(folder, nodeFiles);
    const analysis = await readLogs(session);
    const findings = runChecks(analysis, session);
    return buildReport({ session, analysis, findings, language: 'en', version: 'test', content });
  } finally {
    rmSync(folder, { recursive: true, force: true });
  }
}

export function finding(report: Report, check: string) {
  const found = report.findings.find((one) => one.check === check);
  if (!found) throw new Error(`no finding of ${check}`);
  return found;
}

function rows(stretches: readonly Stretch[], channel: boolean): string {
  const lines = [`time,v,a,c${channel ? ',d' : ''}`];
  let t = Date.UTC(2026, 1, 3, 6);
  let noise = 1;
  for (const { seconds, stepS, v, i, c, drop = 0 } of stretches) {
    for (let at = 0; at < seconds - 1e-9; at += stepS) {
      // A millivolt and a milliampere to and fro: no logger reads the same for hours.
      noise = -noise;
      const [volts, amps] = [v + 0.0005 * noise, i + 0.0005 * noise];
      lines.push(`${t},${volts.toFixed(4)},${amps.toFixed(4)},${c.toFixed(1)}${channel ? `,${drop.toFixed(3)}` : ''}`);
      t += Math.round(stepS * 1000);
    }
  }
  return `${lines.join('\n')}\n`;
}

function manifest(told: Told): string {
  const { chemistry = 'flooded', capacityAh = 70, battery = [], limits = [] } = told;
  return [
    'standstill: 1',
    'session: {id: published, title: Published, purpose: complaint, timezone: UTC}',
    'vehicle: {description: Invented vehicle, powertrain: combustion, system_voltage: 12 V}',
    `battery: {chemistry: ${chemistry}, capacity: ${capacityAh} Ah${battery.map((one) => `, ${one}`).join('')}}`,
    'log:',
    '  files: ["log/*.csv"]',
    '  columns:',
    '    time: {name: time, format: epoch-ms}',
    `    voltage: {name: v, unit: V, accuracy: ${told.voltage ?? '0.05 % + 5 mV'}}`,
    `    current: {name: a, unit: A, positive: charging, accuracy: ${told.current ?? '0.5 % + 1 mA'}, range: 1000 A}`,
    '    temperature: {name: c, unit: °C, accuracy: 0.5 °C}',
    ...(told.channel ? ['  channels:', '    - {name: d, label: Positive cable, measures: drop}'] : []),
    ...(limits.length > 0 ? ['limits:', ...limits.map((one) => `  ${one}`)] : []),
    '',
  ].join('\n');
}
