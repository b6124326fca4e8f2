/** A small invented van's log and manifest, as files to be written wrongly in one way or another. */
import { mkdir, mkdtemp, rm, writeFile } from 'node:fs/promises';
import { tmpdir } from 'node:os';
import { dirname, join } from 'node:path';
import { run } from '../../src/cli/run.ts';
import { recordingTerminal } from './terminal.ts';

export interface VanRow {
  /** s from the start. */
  readonly s: number;
  readonly volts: number;
  /** Positive into the battery. */
  readonly amps: number;
}

export const VAN_START_MS = Date.UTC(2026, 2, 3, 17, 40);

/** Each 12 h a drive of 30 min, 6 min of settling, a sleep at 22 mA, and a start. */
export function vanRows(days = 2, stepS = 10): VanRow[] {
  return Array.from({ length: Math.round((days * 86_400) / stepS) }, (_, k) => {
    const s = k * stepS;
    const hour = (s / 3600) % 12;
    const [volts, amps] =
      hour < 0.5
        ? [14.3, 20 * Math.exp(-4 * hour) + 2]
        : hour < 0.6
          ? [12.9, -1.2]
          : hour > 11.995
            ? [10.4, -210]
            : [12.62 - hour / 600, -0.022];
    return { s, volts: volts + 0.004 * Math.sin(s / 7), amps: amps + 0.001 * ((k % 3) - 1) };
  });
}

export const VAN_MANIFEST = `standstill: 1
session: {id: small-van, title: Flat after a weekend, purpose: complaint, timezone: Europe/Dublin}
vehicle: {description: Invented van, powertrain: combustion, system_voltage: 12 V}
battery: {chemistry: flooded, capacity: 70 Ah}
log:
  files: ["*.csv"]
  columns:
    time: {name: time}
    voltage: {name: U, unit: V, accuracy: 10 mV}
    current: {name: I, unit: A, positive: charging, accuracy: 5 mA}
`;

export function isoLocal(s: number): string {
  return new Date(VAN_START_MS + s * 1000).toISOString().slice(0, 19);
}

export interface VanFiles {
  /** A folder that is not there yet. */
  add(name: string, files: Readonly<Record<string, string>>): Promise<string>;
  remove(): Promise<void>;
  readonly root: string;
}

export async function vanFiles(): Promise<VanFiles> {
  const root = await mkdtemp(join(tmpdir(), 'standstill-van-'));
  return {
    root,
    async add(name, files) {
      for (const [path, text] of Object.entries(files)) {
        const place = join(root, name, path);
        await mkdir(dirname(place), { recursive: true });
        await writeFile(place, text);
      }
      return join(root, name);
    },
    remove: () => rm(root, { recursive: true }),
  };
}

export async function standstill(...words: string[]) {
  const terminal = recordingTerminal();
  const code = await run(words, terminal);
  return { code, ...terminal.said };
}
