/**
 * The log cut into segments: stretches of tiles between which something changed. A segment is what the reading decides on;
 * within it everything is alike, so that an hour of it says little more than its first minute.
 */
import { median, weightedQuantile } from '../../battery/statistics.ts';
import { rootOfSquares } from '../../battery/uncertainty.ts';
import type { RawCrank } from '../cranks/raw-crank.ts';
import { joined, type TileSpan, type Tiles } from '../tiles/tiles.ts';
import type { Restlessness } from './restless.ts';
import type { LostSupply } from './supply.ts';

/** What its own tiles tell of it. */
export interface BareSegment extends TileSpan {
  readonly seconds: number;
  /** Time without any row right before it, s. */
  readonly holeS: number;
  readonly isFed: boolean;
  readonly lost: 'disconnected' | 'no-data' | null;
  /** The starter turns in it: index into the cranks; −1 otherwise. */
  readonly crank: number;
  /** Medians: voltage, V; draw, A (NaN without current); change from reading to reading beyond the trend, A and V. */
  readonly volts: number;
  readonly drawA: number;
  readonly roughA: number;
  readonly roughV: number;
  /** Share of its tiles in which current flows into the battery, if only for a moment. */
  readonly inShare: number;
  readonly rows: number;
  /** Mean time between its rows, s. */
  readonly stepS: number;
}

/** With what those around it tell, which `look-ahead.ts` adds. */
export interface Segment extends BareSegment {
  /** What follows a crank says of the engine: above 0 that it started, below that it did not; natural-log units; 0 without a crank. */
  readonly started: number;
  /** From its begin until something feeds or the starter turns, s; null where nothing does before a hole or the log's end. */
  readonly againS: number | null;
  /** Fed ever since a crank that started the engine. */
  readonly isSinceStart: boolean;
  /** Amperes have been asked for ever since such a crank. */
  readonly isOnSinceStart: boolean;
  /** The current goes up and down in steps all around it, as only a vehicle in use makes it. */
  readonly isSwitched: boolean;
  /** Much flows in for a while, then much out, again and again around it, as only a generator that is let go makes it. */
  readonly isByTurns: boolean;
  /** The most restless half minute and more of the feeding that it belongs to, from its begin to its end, A and V; NaN where nothing feeds. */
  readonly feeding: Restlessness;
  /** Consumers are switched on and off in that feeding, again and again: what flows in dips, and comes back. */
  readonly feedsConsumers: boolean;
  /** What was drawn for long right before that feeding, A; NaN where nothing was, or nothing feeds. */
  readonly drawnBeforeA: number;
}

/** A level is left once readings have been off it for this long, s. */
const LEAVES_S = 4;
/** Off it, all on one side: on a scale on which small currents count as they are and large ones by their ratio; and V for 12 V. */
const OFF_RATIO = 0.3;
const OFF_V = 0.4;
/** The level follows what drifts, s. */
const FOLLOWS_S = 60;
/**
 * So much steadier than before for so long, s, is another state, though the level stays; by chance one row of restless readings is so
 * much steadier about as seldom as that says, and so many, all of them, in natural-log units together, are no chance: ten at a quarter,
 * four at a thirtieth.
 */
const CALM = 0.25;
const CALM_S = 15;
const CALM_SAYS = 13.8;
/** Steadier than this no sensor tells, A. */
const STILL_A = 0.001;
const LEAST_ROUGH_A = 0.02;
/** Restless readings must keep to the new level for longer: so much restlessness doubles the time, up to this, s, or so many rows. */
const ROUGH = 0.1;
const LEAVES_MOST_S = 60;
const LEAVES_MOST_ROWS = 5;
/** How restless it is shows over so many rows at the least. */
const ROUGH_ROWS = 6;
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
  /** Least current that flows in for sure, A. */
  readonly intoA: number;
}

/** `scale`: of voltages, 1 for a 12 V system. */
export function cutSegments(marked: Marked, scale: number): BareSegment[] {
  const { tiles, fed, lost, crankAt } = marked;
  const { t0, t1, i, v, iRough } = tiles;
  const offV = OFF_V * scale;
  const segments: BareSegment[] = [];
  let first = 0;
  let [amps, volts] = tiles.n > 0 ? [i[0], v[0]] : [0, 0];
  /** How restless it has been lately, also before the last cut, A. */
  let roughA = 0;
  /** First tile of a run that is off the level, how long it has been, and on which side. */
  let since = -1;
  let offS = 0;
  let side = 0;
  /** First tile of a run that is far steadier than before, how long it has been, in how many rows, and what is left at the most. */
  let calmSince = -1;
  let calmS = 0;
  let calmRows = 0;
  let calmMost = 0;
  /** A new segment from tile `to` on, whose level is that of tile `k`. */
  const cut = (to: number, k: number) => {
    if (to > first) segments.push(describe(marked, first, to - 1));
    first = to;
    since = -1;
    offS = 0;
    calmSince = -1;
    calmS = 0;
    calmRows = 0;
    calmMost = 0;
    if (k < tiles.n) [amps, volts] = [i[k], v[k]];
  };
  for (let k = 1; k < tiles.n; k++) {
    const isOther =
      !joined(tiles, k) || fed[k] !== fed[k - 1] || lost[k] !== lost[k - 1] || crankAt[k] !== crankAt[k - 1];
    if (isOther) {
      cut(k, k);
      if (!joined(tiles, k)) roughA = 0;
      continue;
    }
    const lengthS = t1[k] - t0[k];
    const rough = iRough[k];
    const before = roughA;
    // A single change, of a level, is no restlessness.
    const lately = Math.min(rough, iRough[k - 1]);
    if (lately >= 0) roughA += (lately - roughA) * Math.min(1, lengthS / FOLLOWS_S, tiles.rows[k] / ROUGH_ROWS);
    // Readings that only chance to be alike are not alike for long.
    if (before > LEAST_ROUGH_A && rough < CALM * before) {
      if (calmSince < 0) calmSince = k;
      calmS += lengthS;
      calmRows += tiles.rows[k];
      calmMost = Math.max(calmMost, Math.max(STILL_A, rough) / before);
      if (calmS >= CALM_S && -calmRows * Math.log(calmMost) > CALM_SAYS) {
        cut(calmSince, k);
        roughA = rough;
        continue;
      }
    } else {
      calmSince = -1;
      calmS = 0;
      calmRows = 0;
      calmMost = 0;
    }
    const off = sideOf(i[k], amps, v[k] - volts, offV);
    if (off !== 0) {
      if (since < 0 || off !== side) {
        since = k;
        offS = 0;
      }
      side = off;
      offS += lengthS;
      if (offS >= leavesS(before / rootOfSquares([1, amps]), lengthS / tiles.rows[k])) cut(since, k);
    } else {
      since = -1;
      offS = 0;
      const share = Math.min(1, lengthS / FOLLOWS_S);
      amps = follow(amps, i[k], share);
      volts = follow(volts, v[k], share);
    }
  }
  cut(tiles.n, tiles.n);
  return segments;
}

/** How long readings must keep off a level: `rough` is their restlessness as a part of it, `stepS` the time from row to row. */
function leavesS(rough: number, stepS: number): number {
  const leastS = Math.max(LEAVES_S, rough > ROUGH ? stepS : 0);
  return Math.min(Math.max(LEAVES_MOST_S, LEAVES_MOST_ROWS * stepS), leastS * (1 + (rough || 0) / ROUGH));
}

const follow = (a: number, b: number, share: number) =>
  Number.isNaN(a) ? b : Number.isNaN(b) ? a : a + share * (b - a);

/** −1 or 1 where the current is off the level, below or above it; 2 where the voltage is; 0 where both keep to it. */
function sideOf(amps: number, levelA: number, risesV: number, offV: number): number {
  if (Math.abs(risesV) > offV) return 2;
  // The scale is nowhere steeper than the current itself.
  if (Math.abs(amps - levelA) <= OFF_RATIO) return 0;
  const off = Math.asinh(amps) - Math.asinh(levelA);
  return Math.abs(off) > OFF_RATIO ? Math.sign(off) : 0;
}

function describe({ tiles, fed, lost, crankAt, intoA }: Marked, first: number, last: number): BareSegment {
  const stride = Math.max(1, Math.floor((last + 1 - first) / ENOUGH));
  const isUneven = unevenTimes(tiles, first, last, stride);
  const usualOf = (value: (k: number) => number, from = first) => {
    const values: number[] = [];
    const seconds: number[] = [];
    for (let k = from; k <= last; k += stride) {
      const one = value(k);
      if (Number.isNaN(one)) continue;
      values.push(one);
      if (isUneven) seconds.push(tiles.t1[k] - tiles.t0[k]);
    }
    // In a long log quiet tiles are merged: one of a minute says more than one of the second at its edge.
    return isUneven ? weightedQuantile(values, seconds, 0.5) : median(values);
  };
  const usual = (column: Float64Array) => usualOf((k) => column[k]);
  // What only rises or falls (a fan that runs down, a charge that tapers) is not restless.
  const beyondTrend = (rough: Float64Array, column: Float64Array) => {
    const trend = usualOf((k) => (column[k] - column[k - 1]) / tiles.rows[k], first + 1);
    return Math.max(0, usual(rough) - Math.abs(trend || 0));
  };
  let rows = 0;
  let inTiles = 0;
  for (let k = first; k <= last; k++) {
    rows += tiles.rows[k];
    if (tiles.iMax[k] >= intoA) inTiles++;
  }
  return {
    first,
    last,
    inShare: inTiles / (last + 1 - first),
    rows,
    stepS: (tiles.t1[last] - tiles.t0[first]) / Math.max(1, rows),
    seconds: tiles.t1[last] - tiles.t0[first],
    holeS: first > 0 ? Math.max(0, tiles.t0[first] - tiles.t1[first - 1]) : 0,
    isFed: fed[first] === 1,
    lost: lost[first],
    crank: crankAt[first],
    volts: usual(tiles.v),
    drawA: -usual(tiles.i),
    roughA: beyondTrend(tiles.iRough, tiles.i),
    roughV: beyondTrend(tiles.vRough, tiles.v),
  };
}

/** Times so different that a median must weigh them. */
const UNEVEN = 3;

function unevenTimes(tiles: Tiles, first: number, last: number, stride: number): boolean {
  let least = Number.POSITIVE_INFINITY;
  let most = 0;
  for (let k = first; k <= last; k += stride) {
    const s = tiles.t1[k] - tiles.t0[k];
    if (s < least) least = s;
    if (s > most) most = s;
  }
  return most > UNEVEN * least;
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
