/** What each stand shows: time to sleep, draw asleep, mean draw, rest voltage. */
import { mean, standardDeviation } from '../../battery/statistics.ts';
import type { Measured, PeriodKind, Rest, Stand, Wake } from '../model.ts';
import type { Label } from '../states/label.ts';
import type { StandTiles } from '../states/stands.ts';
import { joined, type Tiles } from '../tiles/tiles.ts';
import { withEdges } from '../tiles/tiles-in.ts';
import { countedU } from '../totals.ts';
import { measuredA, measuredV, type Sensors, stepLeft } from '../uncertain.ts';
import type { Sleep } from './sleep.ts';
import type { createUnseen } from './unseen.ts';

/** A tile this near to an edge of a sleep may hold some of what is next to it, s. */
const EDGE_S = 3;
/** Rest voltage is the mean of this last part of the rest, s. */
const REST_WINDOW_S = 600;
/** With less rest than this, voltage says nothing of charge, s. */
const LEAST_REST_S = 3600;
/** From so long a rest on the later one counts, s: a good used battery is read after it (TB 9-6140-252-13, WP 0011). */
const WHOLE_REST_S = 8 * 3600;
/** Before key-on someone opens the vehicle: left out of the rest where sleep cannot be seen, s. */
const APPROACH_S = 120;

export interface StandView {
  readonly tiles: Tiles;
  readonly labels: readonly Label[];
  readonly kinds: readonly PeriodKind[];
  readonly sensors: Sensors;
  readonly hasCurrent: boolean;
  /** Standard deviation of single readings while quiet, A; null where it is not known. */
  readonly noiseA: number | null;
  readonly unseen: ReturnType<typeof createUnseen>;
}

/** Without its charge, which is that of its periods. */
export type ShownStand = Omit<Stand, 'chargeInAh' | 'chargeOutAh' | 'chargeOutU'>;

export function describeStand(view: StandView, stand: StandTiles, sleep: Sleep, wakes: readonly Wake[]): ShownStand {
  const { tiles, kinds, labels } = view;
  const { first, last } = stand;
  const time = { asleep: 0, awake: 0, settling: 0 };
  let firstSleep = -1;
  for (let k = first; k <= last; k++) {
    const kind = kinds[k];
    if (kind !== 'asleep' && kind !== 'awake' && kind !== 'settling') continue;
    time[kind] += tiles.t1[k] - tiles.t0[k];
    if (kind === 'asleep' && firstSleep < 0) firstSleep = k;
  }
  const core = sleep.levelA === null ? [] : sleepCore(view, stand);
  const unseenA = core.length > 0 ? view.unseen(core) : 0;
  return {
    start: tiles.t0[first],
    end: tiles.t1[last],
    keyOffInLog: stand.keyOffInLog,
    keyOnInLog: stand.keyOnInLog,
    timeToSleepS: stand.keyOffInLog && firstSleep >= 0 ? tiles.t0[firstSleep] - tiles.t0[first] : null,
    asleepS: time.asleep,
    awakeS: time.awake,
    settlingS: time.settling,
    sleepDrawA: meanDraw(view, core, unseenA),
    unseenA,
    pulses: sleep.pulses,
    meanDrawA: view.hasCurrent
      ? countedDraw(
          view,
          select(stand, (k) => labels[k] === 'parked'),
          chargeOfApproach(view, stand),
        )
      : null,
    wakes: wakes.length,
    countedS: time.asleep + time.awake + time.settling,
    rest: findRest(view, stand),
  };
}

/**
 * Between unlocking and the start a log does not tell when the key was turned: charge of what is told as key-on there, Ah, which may in part be
 * the stand's.
 */
function chargeOfApproach({ tiles, kinds }: StandView, { last }: StandTiles): number {
  let outAs = 0;
  for (let k = last + 1; k < tiles.n && kinds[k] === 'key-on'; k++) outAs -= Math.min(0, tiles.netAs[k]);
  return outAs / 3600;
}

function select(stand: StandTiles, keep: (k: number) => boolean): number[] {
  const chosen: number[] = [];
  for (let k = stand.first; k <= stand.last; k++) if (keep(k)) chosen.push(k);
  return chosen;
}

/** Tiles asleep, without the edges, where a tile may hold part of a wake. */
function sleepCore(view: StandView, stand: StandTiles): number[] {
  const { tiles, kinds } = view;
  const core: number[] = [];
  const all: number[] = [];
  for (let k = stand.first; k <= stand.last; k++) {
    if (kinds[k] !== 'asleep') continue;
    const begin = k;
    while (k < stand.last && kinds[k + 1] === 'asleep' && joined(tiles, k + 1)) k++;
    for (let j = begin; j <= k; j++) {
      all.push(j);
      const inside =
        j > begin && j < k && tiles.t0[j] >= tiles.t0[begin] + EDGE_S && tiles.t1[j] <= tiles.t1[k] - EDGE_S;
      if (inside) core.push(j);
    }
  }
  return core.length ? core : all;
}

/** Time-weighted mean draw, null of no tiles; scatter from means of tiles. `unseenA`: how far off it may read the same, A. */
function meanDraw(view: StandView, chosen: readonly number[], unseenA = 0): Measured | null {
  const { tiles, sensors } = view;
  let charge = 0;
  let covered = 0;
  const draws: number[] = [];
  for (const k of chosen) {
    if (!(tiles.iCov[k] > 0)) continue;
    charge -= tiles.netAs[k];
    covered += tiles.iCov[k];
    draws.push(-tiles.i[k]);
  }
  if (covered === 0) return null;
  const step = 2 * stepLeft(sensors.resolution.i, view.noiseA ?? 0);
  const resolution = { ...sensors.resolution, i: Math.max(step, 2 * unseenA) };
  return measuredA({ ...sensors, resolution }, charge / covered, scatterOfMean(draws));
}

/** Mean draw over tiles of all kinds, from the charge: what differs between them is no error. `openAh`: what may belong to it besides. Null of no tiles. */
function countedDraw(view: StandView, chosen: readonly number[], openAh: number): Measured | null {
  const { tiles } = view;
  const sum = (column: Float64Array) => chosen.reduce((total, k) => total + column[k], 0);
  const seconds = sum(tiles.iCov);
  if (!(seconds > 0)) return null;
  const outAs = -sum(tiles.netAs);
  const { u, k } = countedU(view, chosen, outAs / 3600, [openAh], withEdges(tiles, chosen));
  return { value: outAs / seconds, u: (u * 3600) / seconds, k };
}

/** Standard uncertainty of a mean from the scatter of what it is of; a single value shows none. */
function scatterOfMean(values: readonly number[]): number {
  return values.length > 1 ? standardDeviation(values) / Math.sqrt(values.length) : 0;
}

/** The end of the longest rest since the last charge; null where it was shorter than an hour. */
function findRest(view: StandView, stand: StandTiles): Rest | null {
  const { tiles, labels, kinds, hasCurrent } = view;
  let chargedAt = tiles.t0[stand.first];
  let chargedInLog = stand.keyOffInLog;
  let best: Rest | null = null;
  for (let k = stand.first; k <= stand.last; k++) {
    if (labels[k] === 'on-charger' || labels[k] === 'top-up') {
      chargedAt = tiles.t1[k];
      chargedInLog = true;
    }
    const resting = hasCurrent
      ? kinds[k] === 'asleep'
      : labels[k] === 'parked' && tiles.t1[k] < tiles.t1[stand.last] - APPROACH_S;
    const next = k + 1 <= stand.last && joined(tiles, k + 1);
    const restsOn =
      next &&
      (hasCurrent
        ? kinds[k + 1] === 'asleep'
        : labels[k + 1] === 'parked' && tiles.t1[k + 1] < tiles.t1[stand.last] - APPROACH_S);
    if (!resting || restsOn || tiles.t1[k] - chargedAt < LEAST_REST_S) continue;
    const rest = restAt(view, stand, k, chargedAt, chargedInLog);
    // Of rests that are long enough the latest tells what the battery holds now, else the longest.
    if (rest && (!best || rest.sinceChargeS >= Math.min(best.sinceChargeS, WHOLE_REST_S))) best = rest;
  }
  return best;
}

function restAt(
  view: StandView,
  stand: StandTiles,
  end: number,
  chargedAt: number,
  sinceChargeInLog: boolean,
): Rest | null {
  const { tiles, kinds, hasCurrent } = view;
  const volts: number[] = [];
  const draws: number[] = [];
  const temps: number[] = [];
  let heldS = 0;
  for (let k = end; k >= stand.first; k--) {
    if (hasCurrent && kinds[k] !== 'asleep') break;
    if (tiles.t1[end] - tiles.t0[k] > REST_WINDOW_S && volts.length > 0) break;
    // The last tile touches what ends the rest; a single row between a wake and a start touches both.
    const touches = !hasCurrent || kinds[end - 1] === 'asleep' || tiles.rows[end] <= 1;
    if (k === end && end > stand.first && joined(tiles, end) && touches) continue;
    heldS += tiles.t1[k] - tiles.t0[k];
    if (!Number.isNaN(tiles.v[k])) volts.push(tiles.v[k]);
    if (!Number.isNaN(tiles.i[k])) draws.push(-tiles.i[k]);
    if (!Number.isNaN(tiles.temp[k])) temps.push(tiles.temp[k]);
  }
  if (volts.length === 0 || heldS < 60) return null;
  const at = tiles.t1[end];
  return {
    at,
    volts: measuredV(view.sensors, mean(volts), scatterOfMean(volts)),
    sinceChargeS: at - chargedAt,
    sinceChargeInLog,
    drawA: draws.length ? mean(draws) : null,
    temperatureC: temps.length ? mean(temps) : null,
  };
}
