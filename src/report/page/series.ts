/**
 * What the page's script draws from, out of the analysis alone: each quantity in some thousands of points, finer around
 * starts and wakes and at full rate within starts; charge and energy summed up; when each circuit was on; how long which
 * current flowed.
 */

import type { Analysis } from '../../analysis/model.ts';
import { isActive } from '../../analysis/sleep/wakes.ts';
import { type Tiles, tileAt } from '../../analysis/tiles/tiles.ts';
import {
  bandPoints,
  type Column,
  type ColumnsOf,
  type Run,
  tilesToColumns,
} from '../../charts/drawing/tiles-to-columns.ts';
import { linearAround } from '../../charts/session-overview.ts';
import type { Session } from '../../manifest/session.ts';

/** One quantity: points in time order, null where a gap parts them. `t` is s from the log's start. */
export interface Points {
  readonly t: readonly number[];
  readonly lo: readonly (number | null)[];
  readonly hi: readonly (number | null)[];
  readonly y: readonly (number | null)[];
}

export interface Series {
  readonly voltage: Points;
  readonly current: Points | null;
  readonly temperature: Points | null;
  /** A; around zero the axis of currents is even as far as this. */
  readonly linearA?: number;
  /** At the times of `current`, from the log's start on: charge into the battery, Ah; energy, Wh; time with a current, s. */
  readonly sums?: {
    readonly ah: readonly number[];
    readonly wh: readonly number[];
    readonly s: readonly number[];
  } | null;
  /** When each monitored circuit was on, s from the log's start. */
  readonly circuits?: readonly { readonly label: string; readonly on: readonly (readonly [number, number])[] }[];
  /** Seconds for which a draw lay in each class, asleep and awake while parked. */
  readonly shares?: Shares | null;
}

interface Shares {
  /** A; class k lies between edges k and k + 1, the first also holds what is below it. */
  readonly edges: readonly number[];
  readonly asleep: readonly number[];
  readonly awake: readonly number[];
}

/** Keeps a page of the longest log well under 1 MB more: about 30 bytes a point and quantity. */
const COLUMNS = 2400;
/** Starts and wakes that are seen finer, and how much. */
const MOST_WINDOWS = 40;
const WINDOW_COLUMNS = 40;
const AROUND_S = { crank: 20, wake: 60 };
/** Points of all starts together: at 20 a second, that is every reading of some sixty. */
const WAVE_POINTS = 6000;
/** On-times of a circuit that are nearer than this share of the log are drawn as one. */
const NEAR = 1 / 20_000;
const CLASSES_A_DECADE = 8;
const DECADES = { from: -3, to: 3 };

export function seriesOf(analysis: Analysis, session: Session): Series {
  const { tiles, has } = analysis;
  const parts = partsOf(analysis);
  const waves = wavesOf(analysis);
  const points = (columns: ColumnsOf, digits: number, wave: 'v' | 'i' | null): Points => {
    const runs = joinRuns(parts.flatMap((part) => runsIn(tiles, columns, part)));
    const round = (value: number) => Number(value.toFixed(digits));
    const band = bandPoints(runs, (s) => s - analysis.start, round);
    const plain = band.map((point) => ({ ...point, t: Number(point.t.toFixed(1)) }));
    const whole = wave === null ? plain : withWaves(plain, waves, wave, analysis.start, round);
    return {
      t: whole.map(({ t }) => t),
      lo: whole.map(({ lo }) => lo),
      hi: whole.map(({ hi }) => hi),
      y: whole.map(({ y }) => y),
    };
  };
  const current = has.current ? points({ mean: tiles.i, min: tiles.iMin, max: tiles.iMax }, 4, 'i') : null;
  return {
    voltage: points({ mean: tiles.v, min: tiles.vMin, max: tiles.vMax }, 3, 'v'),
    current,
    linearA: linearAround(analysis),
    temperature: has.temperature ? points({ mean: tiles.temp, min: tiles.temp, max: tiles.temp }, 1, null) : null,
    sums: current && sumsAt(tiles, current.t, analysis.start),
    circuits: circuitsOf(analysis, session),
    shares: has.current ? sharesOf(analysis) : null,
  };
}

interface Part {
  readonly from: number;
  readonly to: number;
  readonly columns: number;
}

/** The log in parts that follow each other: finer ones around starts and wakes. */
function partsOf({ start, end, cranks, wakes }: Analysis): Part[] {
  const around = (from: number, to: number, by: number) => ({ from: from - by, to: to + by });
  const windows = [
    ...cranks.slice(0, MOST_WINDOWS).map(({ at, seconds }) => around(at, at + seconds, AROUND_S.crank)),
    ...wakes.slice(0, MOST_WINDOWS).map((wake) => around(wake.start, wake.start + wake.seconds, AROUND_S.wake)),
  ].sort((a, b) => a.from - b.from);
  const parts: Part[] = [];
  const columnS = (end - start) / COLUMNS;
  let at = start;
  const plain = (to: number) => {
    if (to > at) parts.push({ from: at, to, columns: Math.max(1, Math.round((to - at) / columnS)) });
  };
  for (const window of windows) {
    const [from, to] = [Math.max(window.from, at), Math.min(window.to, end)];
    if (to <= from || (to - from) / WINDOW_COLUMNS >= columnS) continue;
    plain(from);
    parts.push({ from, to, columns: WINDOW_COLUMNS });
    at = to;
  }
  plain(end);
  return parts;
}

/** Columns within a part alone: a long tile reaches into several. */
function runsIn(tiles: Tiles, of: ColumnsOf, { from, to, columns }: Part): Run[] {
  const first = tileAt(tiles, from);
  let last = first;
  while (last < tiles.n && (tiles.t0[last] as number) < to) last++;
  const cut = (values: Float64Array) => values.subarray(first, last);
  const own = { n: last - first, t0: cut(tiles.t0), t1: cut(tiles.t1) };
  const quantity = { mean: cut(of.mean), min: cut(of.min), max: cut(of.max) };
  const clipped = (column: Column): Column => ({
    ...column,
    t0: Math.max(column.t0, from),
    t1: Math.min(column.t1, to),
  });
  return tilesToColumns(own, quantity, from, to, columns).map((run) => run.map(clipped));
}

/** Runs of neighbouring parts between which nothing is missing are one. */
function joinRuns(runs: readonly Run[]): Run[] {
  const joined: Column[][] = [];
  for (const run of runs) {
    const before = joined.at(-1);
    const gapS = (run[0]?.t0 ?? 0) - (before?.at(-1)?.t1 ?? Number.NEGATIVE_INFINITY);
    if (before && gapS < 1e-3) before.push(...run);
    else joined.push([...run]);
  }
  return joined;
}

interface Wave {
  readonly t: Float64Array;
  readonly v: Float64Array;
  readonly i: Float64Array;
}

const wavesOf = ({ cranks }: Analysis): Wave[] =>
  cranks.flatMap(({ wave }) => (wave.t.length > 1 ? [wave] : [])).slice(0, MOST_WINDOWS);

interface Point {
  readonly t: number;
  readonly lo: number | null;
  readonly hi: number | null;
  readonly y: number | null;
}

/** Each reading of a start in place of the columns there; where a log is very fast, the lowest and highest of several. */
function withWaves(
  points: readonly Point[],
  waves: readonly Wave[],
  of: 'v' | 'i',
  startS: number,
  round: (value: number) => number,
): Point[] {
  const most = Math.max(60, Math.floor(WAVE_POINTS / Math.max(1, waves.length)));
  let rest = points;
  const whole: Point[] = [];
  for (const wave of waves) {
    const [from, to] = [(wave.t[0] ?? 0) - startS, (wave.t[wave.t.length - 1] ?? 0) - startS];
    const readings = readingsOf(wave, of, startS, most, round);
    if (readings.length < 2) continue;
    const before = rest.findIndex(({ t }) => t >= from);
    const after = rest.findIndex(({ t }) => t > to);
    whole.push(...rest.slice(0, before < 0 ? rest.length : before), ...readings);
    rest = after < 0 ? [] : rest.slice(after);
  }
  return [...whole, ...rest];
}

function readingsOf(
  wave: Wave,
  of: 'v' | 'i',
  startS: number,
  most: number,
  round: (value: number) => number,
): Point[] {
  const every = Math.ceil(wave.t.length / most);
  const readings: Point[] = [];
  for (let k = 0; k < wave.t.length; k += every) {
    const values = [...wave[of].subarray(k, k + every)].filter((value) => !Number.isNaN(value));
    const t = Number(((wave.t[k] ?? 0) - startS).toFixed(3));
    if (values.length === 0 || t < 0) continue;
    const y = values.reduce((sum, value) => sum + value, 0) / values.length;
    readings.push({ t, lo: round(Math.min(...values)), hi: round(Math.max(...values)), y: round(y) });
  }
  return readings;
}

/** Sums of the tiles up to each of the times, s from the log's start; within a tile the charge flows evenly. */
function sumsAt(tiles: Tiles, times: readonly number[], startS: number) {
  const sums: { ah: number[]; wh: number[]; s: number[] } = { ah: [], wh: [], s: [] };
  let [ah, wh, s, k] = [0, 0, 0, 0];
  const part = (tile: number, share: number) => {
    const charge = (share * (tiles.netAs[tile] as number)) / 3600;
    const volts = tiles.v[tile] as number;
    return { ah: charge, wh: Number.isNaN(volts) ? 0 : charge * volts, s: share * (tiles.iCov[tile] as number) };
  };
  for (const time of times) {
    const at = startS + time;
    for (; k < tiles.n && (tiles.t1[k] as number) <= at; k++) {
      const whole = part(k, 1);
      ah += whole.ah;
      wh += whole.wh;
      s += whole.s;
    }
    const [from, to] = [tiles.t0[k] ?? at, tiles.t1[k] ?? at];
    const begun = k < tiles.n && at > from ? part(k, (at - from) / (to - from)) : { ah: 0, wh: 0, s: 0 };
    sums.ah.push(Number((ah + begun.ah).toFixed(5)));
    sums.wh.push(Number((wh + begun.wh).toFixed(4)));
    sums.s.push(Math.round(s + begun.s));
  }
  return sums;
}

function circuitsOf({ tiles, has, start, end }: Analysis, { log }: Session): NonNullable<Series['circuits']> {
  const nearS = (end - start) * NEAR;
  return log.channels.flatMap((channel, c) => {
    if (!has.channels[c] || channel.measures !== 'supply') return [];
    const on: { from: number; to: number }[] = [];
    let last = { from: Number.NaN, to: Number.NaN };
    for (let k = 0; k < tiles.n; k++) {
      if (!isActive(tiles, c, k, channel)) continue;
      const from = (tiles.t0[k] as number) - start;
      const to = (tiles.t1[k] as number) - start;
      if (from - last.to <= nearS) {
        last.to = to;
        continue;
      }
      last = { from, to };
      on.push(last);
    }
    const tenths = (s: number) => Number(s.toFixed(1));
    return [{ label: channel.label, on: on.map(({ from, to }) => [tenths(from), tenths(to)] as const) }];
  });
}

/** How long which draw flowed, in classes of an eighth of a decade: asleep, and awake between key-off and key-on. */
function sharesOf({ tiles, periods }: Analysis): Shares {
  const count = (DECADES.to - DECADES.from) * CLASSES_A_DECADE;
  const edges = Array.from({ length: count + 1 }, (_, k) =>
    Number((10 ** (DECADES.from + k / CLASSES_A_DECADE)).toPrecision(4)),
  );
  const shares = { asleep: new Array<number>(count).fill(0), awake: new Array<number>(count).fill(0) };
  const classOf = (drawA: number) =>
    Math.min(count - 1, Math.max(0, Math.floor((Math.log10(Math.max(drawA, 1e-9)) - DECADES.from) * CLASSES_A_DECADE)));
  for (const period of periods) {
    const own = period.kind === 'asleep' ? shares.asleep : shares.awake;
    if (period.kind !== 'asleep' && period.kind !== 'awake' && period.kind !== 'settling') continue;
    for (let k = tileAt(tiles, period.start); k < tiles.n && (tiles.t0[k] as number) < period.end; k++) {
      const [from, to, amps] = [tiles.t0[k], tiles.t1[k], tiles.i[k]] as [number, number, number];
      const seconds = Math.min(to, period.end) - Math.max(from, period.start);
      const place = classOf(-amps);
      if (seconds > 0 && !Number.isNaN(amps)) own[place] = (own[place] ?? 0) + seconds;
    }
  }
  const rounded = (values: readonly number[]) => values.map((s) => Math.round(s * 10) / 10);
  return { edges, asleep: rounded(shares.asleep), awake: rounded(shares.awake) };
}
