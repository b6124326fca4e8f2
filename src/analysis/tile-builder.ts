/** Sample blocks in, tiles out: one pass, fixed memory. */
import type { SampleBlock } from '../log/block.ts';
import { createStepCounter, type StepCounter } from './steps.ts';
import { createTileStore, mergeTiles, TILE_CEILING, type TileStore, thin } from './tile-store.ts';

/** A tile is closed at the first row at least this long after it began, s; slower logs give one tile a row. */
const WIDTH_S = 0.999;
/** An interval this many times the usual step may be a gap; which, is settled when the whole log is known. */
const ODD_STEP = 2.5;
/** Shorter intervals are never gaps, s. */
const SHORTEST_GAP_S = 1.5;
/** A column that has been silent for this many of its usual steps is missing; until then its next reading is awaited. */
const SILENT_STEPS = 12;
/** Longest that a tile is kept open for a column that comes less often than the other, s. */
const HOLD_S = 60;

export interface TileBuilder {
  push(block: SampleBlock): void;
  finish(): { store: TileStore; steps: StepCounter; resolution: { v: number; i: number; temp: number } };
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
  steps: number;
  /** Smallest difference seen between two neighbouring readings that differ. */
  finest: number;
}

export function createTileBuilder(channels: number, ceiling = TILE_CEILING): TileBuilder {
  const store = createTileStore(channels, ceiling);
  const steps = createStepCounter();
  const v = newTrack();
  const i = newTrack();
  const temp = newTrack();
  const chMin = new Float64Array(channels).fill(Number.NaN);
  const chMax = new Float64Array(channels).fill(Number.NaN);
  let start = Number.NaN;
  let last = Number.NaN;
  let rows = 0;
  let usual = Number.NaN;
  let lastDt = Number.NaN;

  function close(end: number, bridge: 0 | 1): void {
    if (store.n === store.t0.length) thin(store);
    const k = store.n++;
    store.t0[k] = start;
    store.t1[k] = end;
    store.rows[k] = rows;
    store.v[k] = meanOf(v);
    store.vMin[k] = v.min;
    store.vMax[k] = v.max;
    store.vRough[k] = v.steps ? v.rough / v.steps : Number.NaN;
    store.i[k] = meanOf(i);
    store.iMin[k] = i.min;
    store.iMax[k] = i.max;
    store.iCov[k] = i.covered;
    store.netAs[k] = i.area;
    store.iRough[k] = i.steps ? i.rough / i.steps : Number.NaN;
    store.steps[k] = i.steps || v.steps;
    store.temp[k] = temp.count ? temp.sum / temp.count : Number.NaN;
    for (let c = 0; c < channels; c++) {
      store.chMin[c][k] = chMin[c];
      store.chMax[c][k] = chMax[c];
    }
    store.bridge[k] = bridge;
    for (const track of [v, i, temp]) clear(track);
    chMin.fill(Number.NaN);
    chMax.fill(Number.NaN);
    start = end;
    rows = 0;
  }

  function push(block: SampleBlock): void {
    for (let k = 0; k < block.n; k++) {
      const t = block.t[k];
      // A row of temperature alone between two readings has nothing to say of the step.
      const isBare = Number.isNaN(block.v[k]) && Number.isNaN(block.i[k]);
      if (isBare && (isDue(v, t) || isDue(i, t))) {
        takeOthers(block, k);
        continue;
      }
      const dt = t - last;
      let bridges = false;
      if (dt > 0) {
        steps.add(dt);
        bridges = dt > ODD_STEP * usual && dt > SHORTEST_GAP_S;
        if (bridges && last > start) close(last, 0);
        // One long interval is a gap, or the first of many: only the second says that the logger has slowed down.
        if (Number.isNaN(usual)) usual = dt;
        else if (!bridges) usual += 0.2 * (dt - usual);
        else if (lastDt > ODD_STEP * usual) usual = Math.min(dt, lastDt);
        lastDt = dt;
      } else if (Number.isNaN(last)) {
        start = t;
      }
      takeOthers(block, k);
      take(v, t, block.v[k], bridges);
      take(i, t, block.i[k], bridges);
      last = t;
      if (bridges) {
        close(t, 1);
      } else if (t - start >= WIDTH_S && !waits(t)) {
        close(t, 0);
      }
    }
  }

  /** Temperature and channels of row `k`, and the row itself. */
  function takeOthers(block: SampleBlock, k: number): void {
    rows++;
    take(temp, block.t[k], block.temp[k], false);
    for (let c = 0; c < channels; c++) {
      const x = block.ch[c][k];
      if (!(x >= chMin[c])) chMin[c] = Number.isNaN(x) ? chMin[c] : x;
      if (!(x <= chMax[c])) chMax[c] = Number.isNaN(x) ? chMax[c] : x;
    }
  }

  /** A row that lacks voltage or current closes no tile while the reading is still to come. */
  const waits = (t: number) => (isDue(v, t) || isDue(i, t)) && t - start < HOLD_S;

  function finish() {
    if (rows > 0) {
      close(last, 0);
      // Rows that share the last time stamp take no time: they belong to the tile that ends there.
      if (start === store.t0[store.n - 1] && store.n > 1) mergeTiles(store, store.n - 2, --store.n);
    }
    return { store, steps, resolution: { v: finestOf(v), i: finestOf(i), temp: finestOf(temp) } };
  }

  return { push, finish };
}

function newTrack(): Track {
  const track = { t: Number.NaN, x: Number.NaN, step: Number.NaN, finest: Number.POSITIVE_INFINITY } as Track;
  clear(track);
  return track;
}

function clear(track: Track): void {
  track.area = 0;
  track.covered = 0;
  track.sum = 0;
  track.count = 0;
  track.min = Number.NaN;
  track.max = Number.NaN;
  track.rough = 0;
  track.steps = 0;
}

/** Takes one reading. Nothing is integrated over a stretch in which the column is silent for far longer than usual. */
function take(track: Track, t: number, x: number, bridges: boolean): void {
  if (Number.isNaN(x)) {
    if (bridges) track.x = Number.NaN;
    return;
  }
  track.sum += x;
  track.count++;
  if (!(x >= track.min)) track.min = x;
  if (!(x <= track.max)) track.max = x;
  const dt = t - track.t;
  if (!Number.isNaN(track.x) && dt >= 0) {
    if (bridges || !(dt > SILENT_STEPS * track.step) || dt < SHORTEST_GAP_S) {
      track.area += 0.5 * (x + track.x) * dt;
      track.covered += dt;
    }
    const change = x > track.x ? x - track.x : track.x - x;
    track.rough += change;
    track.steps++;
    if (change > 1e-9 && change < track.finest) track.finest = change;
  }
  if (dt >= 0) track.step = Number.isNaN(track.step) ? dt : track.step + 0.2 * (dt - track.step);
  track.t = t;
  track.x = x;
}

const isDue = (track: Track, t: number) => track.t !== t && t - track.t < SILENT_STEPS * track.step;
const meanOf = (track: Track) =>
  track.covered > 0 ? track.area / track.covered : track.count > 0 ? track.sum / track.count : Number.NaN;
const finestOf = (track: Track) => (Number.isFinite(track.finest) ? track.finest : 0);
