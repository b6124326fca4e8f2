/** Writes a simulated session as a folder that `check` and `build` take: session.yaml and the log files. */
import { once } from 'node:events';
import { join } from 'node:path';
import type { Writable } from 'node:stream';
import { finished } from 'node:stream/promises';
import { createGzip } from 'node:zlib';
import { stringify } from 'yaml';
import { zoneOf } from '../base/zone.ts';
import { type Columns, dayOf, headerText, type LogStyle, makeRowWriter } from './log-text.ts';
import type { Scenario } from './scenario.ts';
import type { Truth } from './truth.ts';
import { simulate } from './vehicle.ts';

/** The file system as far as it is needed here; `nodeFiles` in the command line fits. */
export interface DemoIo {
  /** Makes a folder and those above it. */
  makeFolder(path: string): Promise<void>;
  writeText(path: string, text: string): Promise<void>;
  createWriteStream(path: string): Writable;
}

/** What the technician wrote; times in s since the epoch, quantities as text. */
export interface SessionWords {
  readonly session: Readonly<Record<string, string>> & { readonly id: string; readonly timezone: string };
  readonly vehicle: Readonly<Record<string, string>>;
  readonly battery: Readonly<Record<string, string>>;
  readonly accuracy?: { readonly voltage?: string; readonly current?: string; readonly range?: string };
  readonly limits?: Readonly<Record<string, string | Readonly<Record<string, string>>>>;
  readonly install?: {
    readonly fittedAt?: number;
    readonly removedAt?: number;
    readonly more?: Readonly<Record<string, unknown>>;
  };
  readonly notes?: readonly { readonly at: number; readonly text: string }[];
}

export interface DemoSession {
  readonly scenario: Scenario;
  readonly words: SessionWords;
  readonly style: LogStyle;
}

/** Writes into `folder` (made if need be) and returns the truth. Memory stays bounded however long the log is. */
export async function writeSession(
  folder: string,
  session: DemoSession,
  io: DemoIo,
  watch?: Parameters<typeof simulate>[1],
): Promise<Truth> {
  await io.makeFolder(join(folder, 'log'));
  await io.writeText(join(folder, 'session.yaml'), manifestText(session));
  return writeLog(folder, session, io, watch);
}

async function writeLog(
  folder: string,
  { scenario, style }: DemoSession,
  io: DemoIo,
  watch?: Parameters<typeof simulate>[1],
): Promise<Truth> {
  const columns = columnsOf(scenario);
  const rows = makeRowWriter(style, columns, scenario.start);
  const simulation = simulate(scenario, watch);
  let file: { name: string; write(text: string): Promise<void>; close(): Promise<void> } | undefined;
  for (const block of simulation.samples) {
    for (let from = 0, to = 0; from < block.n; from = to) {
      const name = fileName(style, block.t[from]);
      to = style.split === 'one' ? block.n : endOfFile(style, block.t, from, block.n, name);
      if (file?.name !== name) {
        await file?.close();
        file = { name, ...openText(io.createWriteStream(join(folder, 'log', name)), style.gzip) };
        await file.write(headerText(style, columns));
      }
      await file.write(rows(block, from, to));
    }
  }
  await file?.close();
  return simulation.truth();
}

function fileName(style: LogStyle, t: number): string {
  const stem = style.split === 'one' ? 'log' : dayOf(t, style.timezone);
  return `${stem}.${style.delimiter === '\t' ? 'tsv' : 'csv'}${style.gzip ? '.gz' : ''}`;
}

/** First row that belongs to the next file; a block spans minutes to hours, so halving finds it fast. */
function endOfFile(style: LogStyle, t: Float64Array, from: number, n: number, name: string): number {
  if (fileName(style, t[n - 1]) === name) return n;
  let [low, high] = [from, n - 1];
  while (high - low > 1) {
    const middle = (low + high) >> 1;
    if (fileName(style, t[middle]) === name) low = middle;
    else high = middle;
  }
  return high;
}

function openText(target: Writable, gzip: boolean) {
  const stream: Writable = gzip ? createGzip() : target;
  if (gzip) (stream as ReturnType<typeof createGzip>).pipe(target);
  const done = finished(target);
  return {
    async write(text: string): Promise<void> {
      if (!stream.write(text)) await once(stream, 'drain');
    },
    async close(): Promise<void> {
      stream.end();
      await done;
    },
  };
}

function columnsOf({ sensor, channels }: Scenario): Columns {
  return { current: sensor.hasCurrent, temperature: sensor.hasTemperature, channels: channels.length };
}

/** The text of `session.yaml`. */
export function manifestText({ scenario, words, style }: DemoSession): string {
  const local = (t: number): string => {
    const ms = t * 1000;
    return new Date(ms + zoneOf(words.session.timezone).offsetMs(ms)).toISOString().slice(0, 19);
  };
  const install = words.install && {
    ...(words.install.fittedAt !== undefined && { fitted_at: local(words.install.fittedAt) }),
    ...words.install.more,
    ...(words.install.removedAt !== undefined && { removed_at: local(words.install.removedAt) }),
  };
  const manifest = {
    standstill: 1,
    session: words.session,
    vehicle: { ...words.vehicle, powertrain: scenario.powertrain, system_voltage: `${scenario.systemV} V` },
    battery: {
      chemistry: scenario.battery.chemistry,
      capacity: `${scenario.battery.capacityAh} Ah`,
      ...words.battery,
    },
    log: logWords(scenario, words, style, local),
    ...(words.limits && { limits: words.limits }),
    ...(install && { install }),
    ...(words.notes && { notes: words.notes.map(({ at, text }) => ({ at: local(at), text })) }),
  };
  return stringify(manifest, { lineWidth: 0 });
}

function logWords(scenario: Scenario, words: SessionWords, style: LogStyle, local: (t: number) => string): object {
  const { accuracy } = words;
  const file = fileName({ ...style, split: 'one' }, scenario.start);
  return {
    files: [`log/*${file.slice(file.indexOf('.'))}`],
    delimiter: style.delimiter,
    decimal: style.decimal,
    ...(style.preamble.length > 0 && { skip_rows: style.preamble.length }),
    ...(style.time === 'elapsed-s' && { start: local(scenario.start) }),
    columns: {
      time: { name: 'time', format: style.time === 'iso-local' ? 'iso' : style.time },
      voltage: {
        name: `battery_${style.voltageUnit}`,
        unit: style.voltageUnit,
        ...(accuracy?.voltage && { accuracy: accuracy.voltage }),
      },
      ...(scenario.sensor.hasCurrent && {
        current: {
          name: `battery_${style.currentUnit}`,
          unit: style.currentUnit,
          positive: style.positive,
          ...(accuracy?.current && { accuracy: accuracy.current }),
          ...(accuracy?.range && { range: accuracy.range }),
        },
      }),
      ...(scenario.sensor.hasTemperature && { temperature: { name: 'temp_c', unit: '°C' } }),
    },
    ...(scenario.channels.length > 0 && {
      channels: scenario.channels.map((channel, k) => ({
        name: `in${k + 1}_v`,
        label: channel.label,
        // Half the system voltage parts on from off; a drop is watched as it is.
        ...(channel.measures === 'supply' ? { active_above: `${scenario.systemV / 2} V` } : { measures: 'drop' }),
      })),
    }),
  };
}
