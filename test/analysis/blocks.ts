/**
 * Small logs written as they are told: a list of stretches, each with its step and what voltage and current do in it.
 * `log([stretch(60, 1, {v: 12.6, i: -0.02}), …])` gives one block; nothing here is random that has no number.
 */
import { createAnalyser } from '../../src/analysis/analyse.ts';
import type { Analysis } from '../../src/analysis/model.ts';
import { settleBridges } from '../../src/analysis/tiles/finish-tiles.ts';
import { createTileBuilder } from '../../src/analysis/tiles/tile-builder.ts';
import type { TileStore } from '../../src/analysis/tiles/tile-store.ts';
import { normalPairAt } from '../../src/demo/random.ts';
import type { LogAccount, SampleBlock } from '../../src/log/block.ts';
import { createGapFinder } from '../../src/log/order/gaps.ts';
import type { Channel, LogSettings, Session, Vehicle } from '../../src/manifest/session.ts';

/** 2026-03-03T06:00:00Z */
export const START = Date.UTC(2026, 2, 3, 6) / 1000;

/** A value, or what it is `s` seconds into its stretch, at row `n` of the log. */
export type Course = number | ((s: number, n: number) => number);

export interface Courses {
  readonly v: Course;
  readonly i?: Course;
  readonly temp?: Course;
  readonly ch?: readonly Course[];
}

export interface Stretch extends Courses {
  readonly seconds: number;
  readonly stepS: number;
  /** Nothing is logged in it. */
  readonly silent?: boolean;
}

/** `seconds` of rows, `stepS` apart; the row at its end belongs to what follows. */
export function stretch(seconds: number, stepS: number, courses: Courses): Stretch {
  return { seconds, stepS, ...courses };
}

export function hole(seconds: number): Stretch {
  return { seconds, stepS: seconds, v: Number.NaN, silent: true };
}

export interface Row {
  readonly t: number;
  readonly v: number;
  readonly i?: number;
  readonly temp?: number;
  readonly ch?: readonly number[];
}

export function blockOf(rows: readonly Row[]): SampleBlock {
  const column = (value: (row: Row) => number | undefined) =>
    Float64Array.from(rows, (row) => value(row) ?? Number.NaN);
  return {
    n: rows.length,
    t: column((row) => row.t),
    v: column((row) => row.v),
    i: column((row) => row.i),
    temp: column((row) => row.temp),
    ch: (rows[0]?.ch ?? []).map((_, c) => column((row) => row.ch?.[c])),
  };
}

export function log(stretches: readonly Stretch[]): SampleBlock {
  const rows: Row[] = [];
  let at = START;
  for (const { seconds, stepS, silent, v, i, temp, ch } of stretches) {
    const count = silent ? 0 : Math.round(seconds / stepS);
    for (let k = 0; k < count; k++) {
      const value = (course: Course | undefined) =>
        typeof course === 'function' ? course(k * stepS, rows.length) : course;
      // Loggers write whole milliseconds.
      const t = Math.round((at + k * stepS) * 1000) / 1000;
      rows.push({ t, v: value(v) ?? Number.NaN, i: value(i), temp: value(temp), ch: ch?.map((x) => value(x) ?? 0) });
    }
    at += seconds;
  }
  return blockOf(rows);
}

/** Adds noise of standard deviation `sd` to a course; `stream` keeps columns apart. */
export function noisy(course: Course, sd: number, stream = 1): Course {
  const pair = new Float64Array(2);
  return (s, n) => {
    normalPairAt(stream, n, pair);
    return (typeof course === 'function' ? course(s, n) : course) + sd * pair[0];
  };
}

/** The same rows in blocks of the given sizes, over and over, in arrays that are used again as the reader's are. */
export function* inBlocks(block: SampleBlock, sizes: readonly number[]): Generator<SampleBlock> {
  const most = Math.max(...sizes);
  const again = (column: Float64Array) => ({ from: column, to: new Float64Array(most) });
  const [t, v, i, temp] = [block.t, block.v, block.i, block.temp].map(again);
  const ch = block.ch.map(again);
  for (let from = 0, turn = 0; from < block.n; turn++) {
    const n = Math.min(sizes[turn % sizes.length], block.n - from);
    for (const column of [t, v, i, temp, ...ch]) column.to.set(column.from.subarray(from, from + n));
    yield { n, t: t.to, v: v.to, i: i.to, temp: temp.to, ch: ch.map((column) => column.to) };
    from += n;
  }
}

/** Tiles of a log, with the gaps that the reader would find taken out. */
export function tilesOf(blocks: SampleBlock | Iterable<SampleBlock>, ceiling?: number): TileStore {
  const all = 'n' in blocks ? [blocks] : blocks;
  const gaps = createGapFinder();
  let builder: ReturnType<typeof createTileBuilder> | undefined;
  for (const block of all) {
    builder ??= createTileBuilder(block.ch.length, ceiling);
    builder.push(block);
    for (let row = 0; row < block.n; row++) gaps.push(block.t[row]);
  }
  const { store } = (builder ?? createTileBuilder(0, ceiling)).finish();
  settleBridges(store, gaps.finish());
  return store;
}

export interface SessionWishes {
  readonly vehicle?: Partial<Vehicle>;
  readonly battery?: Partial<Session['battery']>;
  readonly channels?: readonly Channel[];
  readonly columns?: Partial<LogSettings['columns']>;
}

export function sessionWith({ vehicle, battery, channels, columns }: SessionWishes = {}): Session {
  return {
    folder: 'synthetic',
    id: 'synthetic',
    title: 'Synthetic',
    purpose: 'baseline',
    timezone: 'UTC',
    vehicle: { description: 'van', powertrain: 'combustion', systemV: 12, ...vehicle },
    battery: { chemistry: 'flooded', capacityAh: 70, ...battery },
    log: {
      files: ['log.csv'],
      skipRows: 0,
      columns: {
        time: { name: 'time' },
        voltage: { name: 'v', unit: 'V', accuracy: { relative: 0.001, absolute: 0.005 } },
        current: { name: 'a', unit: 'A', positive: 'charging', accuracy: { relative: 0.005, absolute: 0.002 } },
        ...columns,
      },
      channels: channels ?? [],
    },
    limits: {},
    install: {},
    notes: [],
    photos: [],
  };
}

export function accountOf(block: SampleBlock): LogAccount {
  const gaps = createGapFinder();
  for (let row = 0; row < block.n; row++) gaps.push(block.t[row]);
  return { files: [], rows: block.n, rowsRejected: 0, faults: [], gaps: gaps.finish(), understood: [] };
}

export function analysed(block: SampleBlock, wishes: SessionWishes = {}): Analysis {
  const analyser = createAnalyser(sessionWith(wishes));
  for (const part of inBlocks(block, [4096])) analyser.push(part);
  return analyser.finish(accountOf(block));
}

export function sum(column: ArrayLike<number>, n = column.length): number {
  let total = 0;
  for (let k = 0; k < n; k++) total += column[k];
  return total;
}
