/** Sample blocks in, tiles out: one pass, fixed memory. */
import type { SampleBlock } from '../../log/block.ts';
import { createStepCounter, type StepCounter } from './steps.ts';
import { createTileStore, evenOut, makeRoom, mergeTiles, TILE_CEILING, type TileStore } from './tile-store.ts';

/** A tile is closed at the first row at least this long after it began, s; slower logs give one tile a row. */
const WIDTH_S = 0.999;
/** An interval this many times the usual step may be a gap; which, is settled when the whole log is known. */
const ODD_STEP = 2.5;
/** Shorter intervals are never gaps, s. */
const SHORTEST_GAP_S = 1.5;
/** A column that has been silent for this many of its usual steps is missing; until then its next reading is awaited. */
const SILENT_STEPS = 12;
/** Readings that differ by less are rounded differently. */
const LEAST_CHANGE = 1e-9;
/** Longest that a tile is kept open for a column that comes less often than the other, s. */
const HOLD_S = 60;

export interface TileBuilder {
  push(block: SampleBlock): void;
  /** `end`: time of the last row, s; a lone one behind a gap has no tile. */
  finish(): { store: TileStore; end: number; steps: StepCounter; resolution: { v: number; i: number; temp: number } };
}

/** One column on its way through time: integrates by the trapezium rule over its own readings. */
interface Track {
  t: number;
  x: number;
  /** Usual step between readings of this column, s. */
  step: number;
  area: number;
  covered: number;
  sum: number;
  count: number;
  min: number;
  max: number;
  rough: number;
  /** The last change × step, A·s or V·s; over the readings the sum of its squares, and of its products with the one before. */
  moved: number;
  jumps: number;
  turns: number;
  steps: number;
  /** Smallest difference seen between two neighbouring readings that differ. */
  finest: number;
}

interface Mean {
  x: number;
  sum: number;
  count: number;
  finest: number;
}

const newMean = (): Mean => ({ x: Number.NaN, sum: 0, count: 0, finest: Number.POSITIVE_INFINITY });

export function createTileBuilder(channels: number, ceiling = TILE_CEILING): TileBuilder {
  const store = createTileStore(channels, ceiling);
  const steps = createStepCounter();
  const v = newTrack();
  const i = newTrack();
  const temp = newMean();
  const chMin = new Float64Array(channels).fill(Number.POSITIVE_INFINITY);
  const chMax = new Float64Array(channels).fill(Number.NEGATIVE_INFINITY);
  let start = Number.NaN;
  let rows = 0;
  const clock = { last: Number.NaN, lastDt: Number.NaN, usual: Number.NaN };

  function close(end: number, bridge: 0 | 1): void {
    makeRoom(store);
    const k = store.n++;
    store.t0[k] = start;
    store.t1[k] = end;
    store.rows[k] = rows;
    store.v[k] = meanOf(v);
    store.vMin[k] = orNaN(v.min);
    store.vMax[k] = orNaN(v.max);
    store.vRough[k] = v.steps ? v.rough / v.steps : Number.NaN;
    store.i[k] = meanOf(i);
    store.iMin[k] = orNaN(i.min);
    store.iMax[k] = orNaN(i.max);
    store.iCov[k] = i.covered;
    store.netAs[k] = i.area;
    store.jumpsAs2[k] = i.jumps;
    store.turnsAs2[k] = i.turns;
    store.iRough[k] = i.steps ? i.rough / i.steps : Number.NaN;
    store.steps[k] = i.steps || v.steps;
    store.temp[k] = temp.count ? temp.sum / temp.count : Number.NaN;
    for (let c = 0; c < channels; c++) {
      store.chMin[c][k] = orNaN(chMin[c]);
      store.chMax[c][k] = orNaN(chMax[c]);
    }
    store.bridge[k] = bridge;
    clear(v);
    clear(i);
    temp.sum = 0;
    temp.count = 0;
    chMin.fill(Number.POSITIVE_INFINITY);
    chMax.fill(Number.NEGATIVE_INFINITY);
    start = end;
    rows = 0;
  }

  function push(block: SampleBlock): void {
    const { n, t } = block;
    // Columns take rows in runs, which is much quicker than one by one; this is the first that they have not taken.
    let from = 0;
    const takeUpTo = (to: number, bridges = false) => {
      takeRows(block, from, to, bridges);
      from = to;
    };
    for (let k = 0; k < n; k++) {
      const at = t[k];
      // A row of temperature alone between two readings has nothing to say of the step.
      if (Number.isNaN(block.v[k]) && Number.isNaN(block.i[k])) {
        takeUpTo(k);
        if (isDue(v, at) || isDue(i, at)) continue;
      }
      const bridges = step(at);
      if (bridges) {
        takeUpTo(k);
        if (clock.last > start) close(clock.last, 0);
        takeUpTo(k + 1, true);
        close(at, 1);
      } else if (at - start >= WIDTH_S) {
        takeUpTo(k + 1);
        if (!waits(at)) close(at, 0);
      }
      clock.last = at;
    }
    takeUpTo(n);
  }

  /** Moves on to time `at`; true where the interval to it may be a gap. */
  function step(at: number): boolean {
    const dt = at - clock.last;
    if (Number.isNaN(dt)) start = at;
    if (!(dt > 0)) return false;
    steps.add(dt);
    const bridges = dt > ODD_STEP * clock.usual && dt > SHORTEST_GAP_S;
    // One long interval is a gap, or the first of many: only the second says that the logger has slowed down.
    if (Number.isNaN(clock.usual)) clock.usual = dt;
    else if (!bridges) clock.usual += 0.2 * (dt - clock.usual);
    else if (clock.lastDt > ODD_STEP * clock.usual) clock.usual = Math.min(dt, clock.lastDt);
    clock.lastDt = dt;
    return bridges;
  }

  /** Rows `from` up to `to` into the tile that is open. */
  function takeRows(block: SampleBlock, from: number, to: number, bridges: boolean): void {
    if (from === to) return;
    rows += to - from;
    take(v, block.v, { times: block.t, from, to, bridges });
    take(i, block.i, { times: block.t, from, to, bridges });
    takeMean(temp, block.temp, from, to);
    for (let c = 0; c < channels; c++) {
      const readings = block.ch[c];
      let min = chMin[c];
      let max = chMax[c];
      for (let k = from; k < to; k++) {
        // A missing one is neither.
        if (readings[k] < min) min = readings[k];
        if (readings[k] > max) max = readings[k];
      }
      chMin[c] = min;
      chMax[c] = max;
    }
  }

  /** A row that lacks voltage or current closes no tile while the reading is still to come. */
  const waits = (t: number) => (isDue(v, t) || isDue(i, t)) && t - start < HOLD_S;

  function finish() {
    if (rows > 0) {
      close(clock.last, 0);
      // Rows that share the last time stamp take no time: they belong to the tile that ends there.
      if (start === store.t0[store.n - 1] && store.n > 1) mergeTiles(store, store.n - 2, --store.n);
    }
    evenOut(store);
    return { store, end: clock.last, steps, resolution: { v: finestOf(v), i: finestOf(i), temp: finestOf(temp) } };
  }

  return { push, finish };
}

function newTrack(): Track {
  const track = { t: Number.NaN, x: Number.NaN, step: Number.NaN, moved: 0, finest: Number.POSITIVE_INFINITY } as Track;
  clear(track);
  return track;
}

function clear(track: Track): void {
  track.area = 0;
  track.covered = 0;
  track.sum = 0;
  track.count = 0;
  track.min = Number.POSITIVE_INFINITY;
  track.max = Number.NEGATIVE_INFINITY;
  track.rough = 0;
  track.jumps = 0;
  track.turns = 0;
  track.steps = 0;
}

/** Rows `from` up to `to` of a block. */
interface Run {
  readonly times: Float64Array;
  readonly from: number;
  readonly to: number;
  /** The interval to it may be a gap. */
  readonly bridges: boolean;
}

/** Nothing is integrated over a stretch in which the column is silent for far longer than usual. */
function take(track: Track, readings: Float64Array, { times, from, to, bridges }: Run): void {
  let { t, x, step, area, covered, sum, count, min, max, rough, moved, jumps, turns, steps, finest } = track;
  for (let k = from; k < to; k++) {
    const reading = readings[k];
    if (Number.isNaN(reading)) {
      if (bridges) x = Number.NaN;
      continue;
    }
    sum += reading;
    count++;
    if (reading < min) min = reading;
    if (reading > max) max = reading;
    const dt = times[k] - t;
    if (!Number.isNaN(x) && dt >= 0) {
      const change = reading > x ? reading - x : x - reading;
      if (bridges || !(dt > SILENT_STEPS * step) || dt < SHORTEST_GAP_S) {
        area += 0.5 * (reading + x) * dt;
        covered += dt;
        const before = moved;
        moved = (reading - x) * dt;
        jumps += moved * moved;
        turns += moved * before;
      } else moved = 0;
      rough += change;
      steps++;
      if (change > LEAST_CHANGE && change < finest) finest = change;
    }
    if (dt >= 0) step = Number.isNaN(step) ? dt : step + 0.2 * (dt - step);
    t = times[k];
    x = reading;
  }
  track.t = t;
  track.x = x;
  track.step = step;
  track.area = area;
  track.covered = covered;
  track.sum = sum;
  track.count = count;
  track.min = min;
  track.max = max;
  track.rough = rough;
  track.moved = moved;
  track.jumps = jumps;
  track.turns = turns;
  track.steps = steps;
  track.finest = finest;
}

/** A column of which only the mean is wanted. */
function takeMean(mean: Mean, readings: Float64Array, from: number, to: number): void {
  let { x, sum, count, finest } = mean;
  for (let k = from; k < to; k++) {
    const reading = readings[k];
    if (Number.isNaN(reading)) continue;
    sum += reading;
    count++;
    const change = Math.abs(reading - x);
    if (change > LEAST_CHANGE && change < finest) finest = change;
    x = reading;
  }
  mean.x = x;
  mean.sum = sum;
  mean.count = count;
  mean.finest = finest;
}

const orNaN = (extreme: number) => (Number.isFinite(extreme) ? extreme : Number.NaN);
const isDue = (track: Track, t: number) => track.t !== t && t - track.t < SILENT_STEPS * track.step;
const meanOf = (track: Track) =>
  track.covered > 0 ? track.area / track.covered : track.count > 0 ? track.sum / track.count : Number.NaN;
const finestOf = (track: { readonly finest: number }) => (Number.isFinite(track.finest) ? track.finest : 0);
