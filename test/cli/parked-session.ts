/** Small sessions of a parked vehicle, laid into a folder and built: for tests of what a build does with an archive. */
import { mkdirSync, statSync, writeFileSync } from 'node:fs';
import { join } from 'node:path';
import { build } from '../../src/cli/build.ts';
import { recordingTerminal } from './terminal.ts';

/** A parked vehicle for half a day, asleep, a row a minute. */
export function laySession(folder: string, id: string, drawA = 0.02, more = ''): string {
  mkdirSync(folder, { recursive: true });
  const rows = Array.from({ length: 720 }, (_, k) => {
    const at = new Date(Date.UTC(2026, 2, 3) + k * 60_000).toISOString();
    return `${at},${(12.6 - (k % 3) * 0.001).toFixed(3)},${(-drawA - (k % 2) * 0.001).toFixed(3)}`;
  });
  writeFileSync(join(folder, 'log.csv'), `time,v,a\n${rows.join('\n')}\n`);
  writeFileSync(
    join(folder, 'session.yaml'),
    `standstill: 1
session: {id: ${id}, title: Title of ${id}, purpose: complaint, timezone: UTC}
vehicle: {description: Small car, powertrain: combustion, system_voltage: 12 V, registration: "XQ-${id}"}
battery: {chemistry: flooded, capacity: 60 Ah}
log:
  files: [log.csv]
  columns:
    time: {name: time, format: iso}
    voltage: {name: v, unit: V}
    current: {name: a, unit: A, positive: charging}
${more}`,
  );
  return folder;
}

const OPTIONS = { pdf: false, page: 'a4', redact: false, jobs: 2 } as const;
export const run = async (folders: readonly string[], out: string, more: object = {}) => {
  const terminal = recordingTerminal();
  const code = await build(folders, { ...OPTIONS, out, ...more }, terminal);
  return { code, ...terminal.said };
};
/** When the report was written. */
export const stamp = (out: string, id: string) => statSync(join(out, 'sessions', id, 'report.json')).mtimeMs;
