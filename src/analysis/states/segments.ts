/**
 * The log cut into segments: stretches of tiles between which something changed. A segment is what the reading decides on;
 * within it everything is alike, so that an hour of it says little more than its first minute.
 */
import { median } from '../../battery/statistics.ts';
import type { RawCrank } from '../cranks/crank-measure.ts';
import { joined, type TileSpan, type Tiles } from '../tiles/tiles.ts';
import type { Restlessness } from './restless.ts';
import type { LostSupply } from './supply.ts';

export interface Segment extends TileSpan {
  readonly seconds: number;
  /** Time without any row right before it, s. */
  readonly holeS: number;
  readonly isFed: boolean;
  readonly lost: 'disconnected' | 'no-data' | null;
  /** The starter turns in it: index into the cranks; −1 otherwise. */
  readonly crank: number;
  /** What the crank itself says of the engine: above 0 that it started, below that it did not; natural-log units. */
  readonly started: number;
  /** From its begin until something feeds or the starter turns, s; null where nothing does before a hole or the log's end. */
  readonly againS: number | null;
  /** Medians: voltage, V; draw, A (NaN without current); change from reading to reading beyond the trend, A and V. */
  readonly volts: number;
  readonly drawA: number;
  readonly roughA: number;
  readonly roughV: number;
  readonly rows: number;
  /** Mean time between its rows, s. */
  readonly stepS: number;
}

/** A level is left once readings have been off it for this long, s. */
const LEAVES_S = 4;
/** Off it, all on one side: on a scale on which small currents count as they are and large ones by their ratio; and V for 12 V. */
const OFF_RATIO = 0.3;
const OFF_V = 0.4;
/** The level follows what drifts, s. */
const FOLLOWS_S = 60;
/** So much steadier than before for so long, and in so many tiles, is another state, though the level stays. */
const CALM = 0.25;
const CALM_S = 15;
const CALM_TILES = 10;
const LEAST_ROUGH_A = 0.02;
/** Restless readings must keep to the new level for longer: so much restlessness doubles the time, up to this, s. */
const ROUGH = 0.1;
const LEAVES_MOST_S = 60;
/** A median of so many tiles is as good as one of all. */
const ENOUGH = 2000;

/** What is known of each tile before its state is. */
export interface Marked {
  readonly tiles: Tiles;
  /** 1 where the battery is fed. */
  readonly fed: Uint8Array;
  readonly lost: LostSupply;
  /** The crank whose starter turns in it, −1 for none. */
  readonly crankAt: Int32Array;
}

/** `scale`: of voltages, 1 for a 12 V system. */
export function cutSegments(marked: Marked, scale: number): Segment[] {
  const { tiles, fed, lost, crankAt } = marked;
  const segments: Segment[] = [];
  let first = 0;
  let level = levelAt(tiles, 0);
  /** First tile of a run that is off the level, and how long it has been. */
  let since = -1;
  let offS = 0;
  let side = 0;
  /** First tile of a run that is far steadier than before, and how long it has been. */
  let calmSince = -1;
  let calmS = 0;
  const cut = (to: number) => {
    if (to > first) segments.push(describe(marked, first, to - 1));
    first = to;
    since = -1;
    offS = 0;
    calmSince = -1;
    calmS = 0;
  };
  for (let k = 1; k < tiles.n; k++) {
    const isOther =
      !joined(tiles, k) || fed[k] !== fed[k - 1] || lost[k] !== lost[k - 1] || crankAt[k] !== crankAt[k - 1];
    if (isOther) {
      cut(k);
      level = levelAt(tiles, k);
      continue;
    }
    const lengthS = tiles.t1[k] - tiles.t0[k];
    // Readings that only chance to be alike are not alike for long.
    if (level.rough > LEAST_ROUGH_A && tiles.iRough[k] < CALM * level.rough) {
      if (calmSince < 0) calmSince = k;
      calmS += lengthS;
      if (calmS >= CALM_S && k - calmSince >= CALM_TILES) {
        cut(calmSince);
        level = levelAt(tiles, k);
        continue;
      }
    } else {
      calmSince = -1;
      calmS = 0;
    }
    const off = sideOf(tiles, k, level, scale);
    if (off !== 0) {
      if (since < 0 || off !== side) {
        since = k;
        offS = 0;
      }
      side = off;
      offS += lengthS;
      if (offS >= leavesS(level)) {
        cut(since);
        level = levelAt(tiles, k);
      }
    } else {
      since = -1;
      offS = 0;
      level = follow(level, levelAt(tiles, k), Math.min(1, lengthS / FOLLOWS_S));
    }
  }
  cut(tiles.n);
  return segments;
}

/** A voltage that rises beyond what it was shows a start; another crank within a minute, that there was none. */
const STARTED = 4;
/**
 * A start that is neither repeated nor followed by charging, and after which amperes are drawn for minutes: an engine that runs
 * and charges nothing. Who gives up leaves the key on for less, or with less. Common practice, no source.
 */
const RUNS_ON = 5;
const RUNS_ON_A = 4;
const RUNS_ON_S = 300;
/** What injectors and ignition make of it, from reading to reading, A. */
const RUNS_ROUGH_A = 0.04;
const RETRIED = -2.5;
const RETRY_S = 60;

/** Weighs each crank by what follows it, and says of each segment how long until something does. */
export function lookAhead(segments: readonly Segment[], cranks: readonly RawCrank[], floor: Restlessness): Segment[] {
  const again = fedAgainS(segments);
  return segments.map((segment, k) => {
    const againS = again[k];
    if (segment.crank < 0) return { ...segment, againS };
    const { at, seconds, recovered } = cranks[segment.crank];
    const next = cranks[segment.crank + 1]?.at;
    let fedBetween = false;
    for (let j = k + 1; j < segments.length && segments[j].crank <= segment.crank; j++)
      if (segments[j].isFed) fedBetween = true;
    const isRetried = next !== undefined && next - at - seconds < RETRY_S && !fedBetween;
    const runsOn = !fedBetween && runsOnS(segments, k, floor) >= RUNS_ON_S;
    return { ...segment, againS, started: isRetried ? RETRIED : recovered ? STARTED : runsOn ? RUNS_ON : 0 };
  });
}

function fedAgainS(segments: readonly Segment[]): (number | null)[] {
  const again: (number | null)[] = new Array(segments.length);
  let nextS: number | null = null;
  for (let k = segments.length - 1; k >= 0; k--) {
    const { isFed, crank, lost, seconds, holeS } = segments[k];
    again[k] = isFed || crank >= 0 ? 0 : lost !== null || nextS === null ? null : seconds + nextS;
    nextS = holeS > 0 ? null : again[k];
  }
  return again;
}

/** Time from a crank on for which consumers ask for what a running engine's ask for, s; ends with the next crank. */
function runsOnS(segments: readonly Segment[], crank: number, floor: Restlessness): number {
  const leastA = Math.max(RUNS_ROUGH_A, 4 * floor.amps);
  let seconds = 0;
  for (let j = crank + 1; j < segments.length; j++) {
    const { crank: own, holeS, drawA, roughA } = segments[j];
    if (own >= 0 || holeS > 0 || !(drawA >= RUNS_ON_A && roughA >= leastA)) break;
    seconds += segments[j].seconds;
  }
  return seconds;
}

interface Level {
  readonly amps: number;
  readonly volts: number;
  readonly rough: number;
}

const levelAt = (tiles: Tiles, k: number): Level => ({ amps: tiles.i[k], volts: tiles.v[k], rough: tiles.iRough[k] });

function follow(level: Level, next: Level, share: number): Level {
  const move = (a: number, b: number) => (Number.isNaN(a) ? b : Number.isNaN(b) ? a : a + share * (b - a));
  return {
    amps: move(level.amps, next.amps),
    volts: move(level.volts, next.volts),
    rough: move(level.rough, next.rough),
  };
}

/** −1 or 1 where the tile is off the level, below or above it; 2 where the voltage is; 0 where it keeps to it. */
function sideOf(tiles: Tiles, k: number, level: Level, scale: number): number {
  if (Math.abs(tiles.v[k] - level.volts) > OFF_V * scale) return 2;
  const off = Math.asinh(tiles.i[k]) - Math.asinh(level.amps);
  return Math.abs(off) > OFF_RATIO ? Math.sign(off) : 0;
}

const leavesS = (level: Level) =>
  Math.min(LEAVES_MOST_S, LEAVES_S * (1 + (level.rough || 0) / Math.hypot(1, level.amps) / ROUGH));

function describe({ tiles, fed, lost, crankAt }: Marked, first: number, last: number): Segment {
  const stride = Math.max(1, Math.floor((last + 1 - first) / ENOUGH));
  const usualOf = (value: (k: number) => number, from = first) => {
    const values: number[] = [];
    for (let k = from; k <= last; k += stride) if (!Number.isNaN(value(k))) values.push(value(k));
    return median(values);
  };
  const usual = (column: Float64Array) => usualOf((k) => column[k]);
  // What only rises or falls (a fan that runs down, a charge that tapers) is not restless.
  const beyondTrend = (rough: Float64Array, column: Float64Array) => {
    const trend = usualOf((k) => (column[k] - column[k - 1]) / tiles.rows[k], first + 1);
    return Math.max(0, usual(rough) - Math.abs(trend || 0));
  };
  let rows = 0;
  for (let k = first; k <= last; k++) rows += tiles.rows[k];
  return {
    first,
    last,
    rows,
    stepS: (tiles.t1[last] - tiles.t0[first]) / Math.max(1, rows),
    seconds: tiles.t1[last] - tiles.t0[first],
    holeS: first > 0 ? Math.max(0, tiles.t0[first] - tiles.t1[first - 1]) : 0,
    isFed: fed[first] === 1,
    lost: lost[first],
    crank: crankAt[first],
    started: 0,
    againS: null,
    volts: usual(tiles.v),
    drawA: -usual(tiles.i),
    roughA: beyondTrend(tiles.iRough, tiles.i),
    roughV: beyondTrend(tiles.vRough, tiles.v),
  };
}

/** Per tile the crank whose starter turns in it, −1 for none. */
export function crankTiles(tiles: Tiles, cranks: readonly RawCrank[]): Int32Array {
  const at = new Int32Array(tiles.n).fill(-1);
  let k = 0;
  cranks.forEach((crank, index) => {
    while (k < tiles.n && tiles.t1[k] <= crank.at) k++;
    for (let j = k; j < tiles.n && tiles.t0[j] < crank.at + crank.seconds - 1e-6; j++) at[j] = index;
  });
  return at;
}
