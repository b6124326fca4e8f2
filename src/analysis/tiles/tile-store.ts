/**
 * Columns of tiles with a fixed ceiling. When it is reached, neighbours that say the same are merged, with a tolerance
 * that grows until half are gone: a quiet night becomes a few long tiles, a crank keeps its own. So memory does not grow
 * with the log, and what is lost is detail where nothing happens.
 */
import type { Tiles } from './tiles.ts';

/** Enough for three days at one tile a second before anything is merged; about 50 MB. */
export const TILE_CEILING = 1 << 18;
const FIRST_TILES = 1 << 12;
const GROWTH = 8;

/** Time that merged tiles may span at first, s; doubles with the tolerance. */
const SPAN_S = 30;
/** With this much slack a missing value no longer parts tiles, so that a log of patchy columns comes down in size too. */
const PATCHY_SLACK = 64;
/** Past it every value is like every other. */
const MOST_SLACK = 2 ** 40;
/** As the log reader has it: so many intervals of one length (within 2 %) are a habit. */
const HABIT = 10;
const SAME_LENGTH = Math.log(1.02);

export interface TileStore extends Tiles {
  n: number;
  /** Most tiles that it ever holds. */
  readonly ceiling: number;
  /** With which neighbours were merged last; 0 where all are as they were built. */
  slack: number;
  readonly chMin: Float64Array[];
  readonly chMax: Float64Array[];
  /** 1 for a tile that is one odd interval, which may be a gap; 0 for an ordinary tile. */
  readonly bridge: Float64Array;
  /** Differences counted in iRough and vRough. */
  readonly steps: Float64Array;
}

const COLUMNS = [
  't0',
  't1',
  'rows',
  'v',
  'vMin',
  'vMax',
  'i',
  'iMin',
  'iMax',
  'iCov',
  'netAs',
  'jumpsAs2',
  'turnsAs2',
  'iRough',
  'vRough',
  'temp',
  'bridge',
  'steps',
] as const;

/** Of as many tiles as a short log has; `makeRoom` makes it larger. */
export function createTileStore(channels: number, ceiling = TILE_CEILING): TileStore {
  const column = () => new Float64Array(Math.min(ceiling, FIRST_TILES));
  const columns = Object.fromEntries(COLUMNS.map((name) => [name, column()])) as Pick<
    TileStore,
    (typeof COLUMNS)[number]
  >;
  const channelColumns = () => Array.from({ length: channels }, column);
  return { n: 0, ceiling, slack: 0, ...columns, chMin: channelColumns(), chMax: channelColumns() };
}

/** Every column of a store, for moving whole tiles. */
export function columnsOf(store: TileStore): Float64Array[] {
  return [...COLUMNS.map((name) => store[name]), ...store.chMin, ...store.chMax];
}

/** Room for another tile, where there is none: in longer columns, or, at the ceiling, by merging. */
export function makeRoom(store: TileStore): void {
  const { length } = store.t0;
  if (store.n < length) return;
  if (length >= store.ceiling) {
    thin(store);
    return;
  }
  const longer = (column: Float64Array) => {
    const larger = new Float64Array(Math.min(store.ceiling, GROWTH * length));
    larger.set(column);
    return larger;
  };
  for (const name of COLUMNS) Object.assign(store, { [name]: longer(store[name]) });
  for (const columns of [store.chMin, store.chMax]) columns.splice(0, columns.length, ...columns.map(longer));
}

/** Merges neighbours until at most half the ceiling is in use. */
export function thin(store: TileStore): void {
  const goal = store.t0.length >> 1;
  releaseHabits(store);
  for (let slack = 1; store.n > goal && slack < MOST_SLACK; slack *= 2) mergePass(store, slack);
}

/** For a log that has ended: where its first days were thinned, the last get the same detail, in place of many times as much. */
export function evenOut(store: TileStore): void {
  if (store.slack === 0) return;
  releaseHabits(store);
  mergePass(store, store.slack);
}

/** A logger that pauses often for one and the same time has a habit, not a gap: such intervals may be merged. */
function releaseHabits(store: TileStore): void {
  const lengths = new Map<number, number>();
  const binOf = (k: number) => Math.round(Math.log(store.t1[k] - store.t0[k]) / SAME_LENGTH);
  for (let k = 0; k < store.n; k++) if (store.bridge[k] === 1) lengths.set(binOf(k), (lengths.get(binOf(k)) ?? 0) + 1);
  for (let k = 0; k < store.n; k++) {
    if (store.bridge[k] !== 1) continue;
    const bin = binOf(k);
    const times = [bin - 1, bin, bin + 1].reduce((sum, near) => sum + (lengths.get(near) ?? 0), 0);
    if (times >= HABIT) store.bridge[k] = 0;
  }
}

function mergePass(store: TileStore, slack: number): void {
  store.slack = slack;
  const columns = columnsOf(store);
  let last = 0;
  for (let k = 1; k < store.n; k++) {
    if (alike(store, last, k, slack)) {
      mergeTiles(store, last, k);
    } else {
      last++;
      if (last !== k) for (const column of columns) column[last] = column[k];
    }
  }
  store.n = Math.min(store.n, last + 1);
}

/** Slack 1 takes tiles within 1 mA + 1 % and 5 mV of each other. */
function alike(s: TileStore, a: number, b: number, slack: number): boolean {
  if (s.t1[a] !== s.t0[b] || s.bridge[a] === 1 || s.bridge[b] === 1) return false;
  if (s.t1[b] - s.t0[a] > SPAN_S * slack) return false;
  const differ = slack < PATCHY_SLACK ? differOrMissing : differKnown;
  if (differ(s.v[a], s.v[b], 0.005 * slack) || differ(s.vMin[a], s.vMin[b], 0.02 * slack)) return false;
  if (differ(s.vMax[a], s.vMax[b], 0.02 * slack)) return false;
  const size = Math.abs(s.i[a]) || 0;
  if (differ(s.i[a], s.i[b], slack * (0.001 + 0.01 * size))) return false;
  if (differ(s.iMin[a], s.iMin[b], slack * (0.004 + 0.04 * size))) return false;
  if (differ(s.iMax[a], s.iMax[b], slack * (0.004 + 0.04 * size))) return false;
  for (let c = 0; c < s.chMin.length; c++) {
    if (differ(s.chMin[c][a], s.chMin[c][b], 0.1 * slack)) return false;
    if (differ(s.chMax[c][a], s.chMax[c][b], 0.1 * slack)) return false;
  }
  return true;
}

const differKnown = (a: number, b: number, tolerance: number) => Math.abs(a - b) > tolerance;

/** A missing value is like a missing value only. */
function differOrMissing(a: number, b: number, tolerance: number): boolean {
  return differKnown(a, b, tolerance) || Number.isNaN(a) !== Number.isNaN(b);
}

/** Puts tile `b` into tile `a`, which it follows; the place of `b` is then free. */
export function mergeTiles(s: TileStore, a: number, b: number): void {
  const wa = s.t1[a] - s.t0[a];
  const wb = s.t1[b] - s.t0[b];
  s.v[a] = weigh(s.v[a], wa, s.v[b], wb);
  s.temp[a] = weigh(s.temp[a], wa, s.temp[b], wb);
  s.iRough[a] = weigh(s.iRough[a], s.steps[a], s.iRough[b], s.steps[b]);
  s.vRough[a] = weigh(s.vRough[a], s.steps[a], s.vRough[b], s.steps[b]);
  s.steps[a] += s.steps[b];
  s.netAs[a] += s.netAs[b];
  s.jumpsAs2[a] += s.jumpsAs2[b];
  s.turnsAs2[a] += s.turnsAs2[b];
  const cov = s.iCov[a] + s.iCov[b];
  s.i[a] = cov > 0 ? s.netAs[a] / cov : weigh(s.i[a], 1, s.i[b], 1);
  s.iCov[a] = cov;
  s.rows[a] += s.rows[b];
  s.vMin[a] = lower(s.vMin[a], s.vMin[b]);
  s.vMax[a] = higher(s.vMax[a], s.vMax[b]);
  s.iMin[a] = lower(s.iMin[a], s.iMin[b]);
  s.iMax[a] = higher(s.iMax[a], s.iMax[b]);
  for (let c = 0; c < s.chMin.length; c++) {
    s.chMin[c][a] = lower(s.chMin[c][a], s.chMin[c][b]);
    s.chMax[c][a] = higher(s.chMax[c][a], s.chMax[c][b]);
  }
  s.t1[a] = s.t1[b];
}

function weigh(a: number, wa: number, b: number, wb: number): number {
  if (Number.isNaN(a)) return b;
  if (Number.isNaN(b)) return a;
  return wa + wb > 0 ? (a * wa + b * wb) / (wa + wb) : a;
}

const lower = (a: number, b: number) => (a < b || Number.isNaN(b) ? a : b);
const higher = (a: number, b: number) => (a > b || Number.isNaN(b) ? a : b);
