/** Logs made in memory: a file system of strings, a session to read them with, and everything that came out. */

import type { LogAccount, LogFault } from '../../src/log/block.ts';
import type { LogIo } from '../../src/log/files/io.ts';
import { readLog } from '../../src/log/read-log.ts';
import type { Channel, LogSettings, Session } from '../../src/manifest/session.ts';
import { diskIo, sha256 } from '../../src/node/disk-io.ts';

export type Content = string | Uint8Array;

export interface SessionOverrides {
  readonly log?: Partial<LogSettings>;
  readonly columns?: Partial<LogSettings['columns']>;
  readonly channels?: readonly Channel[];
  readonly timezone?: string;
  readonly systemV?: 6 | 12 | 24;
}

/** Columns `time`, `v`, `a`, `c`, in V, A (charging positive) and °C. */
export function sessionWith({ log, columns, channels, timezone, systemV }: SessionOverrides = {}): Session {
  return {
    folder: '/session',
    id: 'reader-test',
    title: 'Reader test',
    purpose: 'baseline',
    timezone: timezone ?? 'UTC',
    vehicle: { description: 'van', powertrain: 'combustion', systemV: systemV ?? 12 },
    battery: { chemistry: 'flooded' },
    log: {
      files: [],
      skipRows: 0,
      channels: channels ?? [],
      ...log,
      columns: {
        time: { name: 'time' },
        voltage: { name: 'v', unit: 'V' },
        current: { name: 'a', unit: 'A', positive: 'charging' },
        temperature: { name: 'c', unit: '°C' },
        ...columns,
      },
    },
    limits: {},
    install: {},
    notes: [],
    photos: [],
  };
}

/** `chunk`: bytes that one read gives at most. */
export function memoryIo(files: Readonly<Record<string, Content>>, chunk = Number.POSITIVE_INFINITY): LogIo {
  return {
    ...diskIo,
    async open(path) {
      const name = path.replaceAll('\\', '/').replace(/^.*\/session\//, '');
      const content = files[name];
      if (content === undefined) throw Object.assign(new Error('ENOENT'), { code: 'ENOENT', syscall: 'open' });
      const bytes = typeof content === 'string' ? Buffer.from(content) : content;
      return {
        stat: async () => ({ size: bytes.length, mtimeMs: 0 }),
        async read(buffer, length, position) {
          const part = bytes.subarray(position, position + Math.min(length, chunk));
          buffer.set(part);
          return part.length;
        },
        checksum: sha256,
        close: async () => {},
      };
    },
  };
}

export interface Reading {
  readonly t: number[];
  readonly v: number[];
  readonly i: number[];
  readonly temp: number[];
  readonly ch: number[][];
  readonly account: LogAccount;
}

/** Reads files (one content: `log.csv`) and keeps every sample. */
export async function read(
  content: Content | Readonly<Record<string, Content>>,
  session: Session = sessionWith(),
  chunk?: number,
): Promise<Reading> {
  const files = typeof content === 'string' || content instanceof Uint8Array ? { 'log.csv': content } : content;
  return readFrom(memoryIo(files, chunk), Object.keys(files).sort(), session);
}

export async function readFrom(io: LogIo, files: readonly string[], session: Session): Promise<Reading> {
  const t: number[] = [];
  const v: number[] = [];
  const i: number[] = [];
  const temp: number[] = [];
  const ch: number[][] = session.log.channels.map(() => []);
  const account = await readLog({
    session,
    files,
    io,
    onBlock(block) {
      for (let k = 0; k < block.n; k++) {
        t.push(block.t[k]);
        v.push(block.v[k]);
        i.push(block.i[k]);
        temp.push(block.temp[k]);
        for (const [c, column] of block.ch.entries()) ch[c].push(column[k]);
      }
    },
  });
  return { t, v, i, temp, ch, account };
}

export interface Sample {
  readonly t: number;
  readonly v: number;
  readonly a: number;
  readonly c: number;
}

/** 2026-03-03T17:40:00Z */
export const START = Date.UTC(2026, 2, 3, 17, 40) / 1000;

/** Rows a step apart, each unlike its neighbours. */
export function samples(n: number, { start = START, step = 0.1 }: { start?: number; step?: number } = {}): Sample[] {
  return Array.from({ length: n }, (_, k) => ({
    t: Number((start + k * step).toFixed(3)),
    v: Number((12.6 + 0.05 * Math.sin(k * 1.7)).toFixed(3)),
    a: Number((-0.03 + 0.01 * Math.sin(k * 2.3)).toFixed(4)),
    c: Number((20 + Math.sin(k / 9)).toFixed(1)),
  }));
}

export function iso(t: number): string {
  return new Date(Math.round(t * 1000)).toISOString();
}

export function line({ t, v, a, c }: Sample): string {
  return `${iso(t)},${v.toFixed(3)},${a.toFixed(4)},${c.toFixed(1)}`;
}

export function csv(rows: readonly Sample[]): string {
  return `time,v,a,c\n${rows.map((row) => `${line(row)}\n`).join('')}`;
}

export function kinds(account: LogAccount): string[] {
  return account.faults.map(({ kind }) => kind);
}

export function fault(account: LogAccount, kind: LogFault['kind']): LogFault {
  const found = account.faults.find((candidate) => candidate.kind === kind);
  if (found === undefined) throw new Error(`no ${kind} among ${kinds(account).join(', ') || 'no faults'}`);
  return found;
}
