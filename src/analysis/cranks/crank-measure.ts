/** What one crank shows, from its full-rate rows. Whether it was one says `is-crank.ts`. */
import { INRUSH_S } from '../../battery/cranking.ts';
import { mean, median, quantile } from '../../battery/statistics.ts';
import { plateauOf, resistanceOf } from './crank-figures.ts';
import { type CrankRules, isCrank, isSeenWhole, isSteady } from './is-crank.ts';
import { type HeavyLoad, known, type RawCrank, type Row } from './raw-crank.ts';

/** Less is no starter's current, A: then what is known of current tells nothing of the starter. Common practice, no source, as are all below. */
const LEAST_A = 40;
/** Rows of a plateau, at the least; no further apart than this, s: else a row may as well lie before or after the starter's turning. */
const LEAST_ROWS = 3;
const CLOSE_S = 1.5;
/** Not the middle: what keeps drawing after the starter may fill half of what is looked at. */
const PLATEAU_QUANTILE = 0.75;
/** A starter draws at least so much of its plateau; of its inrush, which is two to three times as high, where the plateau is too short to see. */
const OF_PLATEAU = 0.6;
const OF_INRUSH = 0.5;
const PLATEAU_OF_INRUSH = 0.6;
/** Rows this close show what a dip leads to, s. */
const QUICK_S = 0.25;
/** A voltage that rises so near to that of charging, or so far above what it was, V for 12 V, shows an engine that runs; so does a current in, A. */
const NEAR_CHARGED_V = 0.1;
const RISEN_V = 0.3;
const RECHARGES_A = 1;
/** What comes right after the starter is not looked at, s: less in a quick log. */
const ENDS_S = 0.2;
/** Kept of the waveform before and after, s. */
const WAVE_BEFORE_S = 1;
const WAVE_AFTER_S = 3;

export interface MeasureRules extends CrankRules {
  /** Told by voltage alone: what current is known is not the starter's. */
  readonly byVoltage: boolean;
  /** Keep the waveform. */
  readonly wave: boolean;
}

/** Null where it was no crank. */
export function measureCrank(
  rows: readonly Row[],
  beganAt: number,
  endedAt: number,
  rules: MeasureRules,
): RawCrank | null {
  const hot = withoutRunOn(
    rows.filter(([t]) => t >= beganAt && t <= endedAt),
    rules.scale,
  );
  // What goes round the sensor is seen by voltage alone.
  const withCurrent = !rules.byVoltage && hot.some(([, , i]) => Math.abs(i) >= LEAST_A);
  // Without current the dip stands in for it, from the voltage just before the event.
  const restV = median(voltsOf(lastBefore(rows, beganAt)));
  const { body, peak } = bodyOf(hot, (row) => (withCurrent ? Math.abs(row[2]) || 0 : restV - row[1]));
  const [begin, end] = [body[0], body.at(-1)];
  if (!begin || !end || !peak) return null;
  const [at, stoppedAt] = [begin[0], end[0]];

  const earlier = rows.filter(([t]) => t < at);
  const lastEarlier = earlier.at(-1);
  if (!lastEarlier) return null;
  const quiet = lastBefore(rows, at);
  const voltsBefore = median(voltsOf(quiet));
  const ampsBefore = median(quiet.map(([, , i]) => i).filter(known));
  const voltsMin = Math.min(...voltsOf(body));
  const { step, lastS } = stepOf(rows, body, at - lastEarlier[0]);
  const seconds = stoppedAt - at + lastS;

  const after = rows.filter(([t]) => t > stoppedAt + Math.min(ENDS_S, step / 2));
  const sign = withCurrent ? (Math.sign(peak[2]) as -1 | 0 | 1) : 0;
  const mostV = Math.max(...voltsOf(after));
  const nearlyChargedV = rules.chargedV - NEAR_CHARGED_V * rules.scale;
  // By voltage alone a rise is one above all that it was before: a running engine's supply dips and comes back.
  const isAlone = !withCurrent && !rules.byVoltage;
  const rises = !isAlone || settledV(after, stoppedAt) >= highV(earlier, beganAt) + RISEN_V * rules.scale;
  const recovered =
    (rises && mostV >= Math.max(nearlyChargedV, voltsBefore + RISEN_V * rules.scale)) ||
    (sign !== 0 && after.some(([, , i]) => i * sign < -RECHARGES_A));
  const charges = rises && voltsBefore < nearlyChargedV && mostV >= rules.chargedV && step < QUICK_S;
  const ampsPeak = withCurrent ? Math.abs(peak[2]) : null;
  if (!withCurrent && !isSeenWhole(rows, at, stoppedAt, step)) return null;
  const steady = isSteady(earlier);
  if (!isCrank({ voltsBefore, voltsMin, ampsPeak, seconds, step, recovered, charges, steady, isAlone }, rules))
    return null;

  const settled = body.filter(([t, v]) => t >= at + INRUSH_S && t <= stoppedAt && known(v));
  const isShown = settled.length >= LEAST_ROWS && step <= CLOSE_S && !(step >= HOLDS_S && isOneReading(settled));
  const plateau = isShown ? plateauOf(settled) : null;
  return {
    at,
    seconds,
    rows: body.length,
    voltsBefore,
    voltsMin,
    plateau,
    ampsPeak,
    ampsMean: withCurrent ? mean(body.map(([, , i]) => Math.abs(i)).filter(known)) : null,
    isFlat: withCurrent && isFlat(body),
    ampsBefore: withCurrent && known(ampsBefore) ? Math.abs(ampsBefore) : null,
    resistance: plateau && withCurrent ? resistanceOf(body, settled, voltsBefore, ampsBefore) : null,
    temperatureC: meanOrNull(rows.map(([, , , temp]) => temp).filter(known)),
    sign,
    recovered,
    wave: waveOf(rules.wave ? rows.filter(([t]) => t >= at - WAVE_BEFORE_S && t <= stoppedAt + WAVE_AFTER_S) : []),
  };
}

/** Between rows of the body, and from its last row on, s: a clock that counts whole seconds gives many rows one time, which lasts until the next. */
function stepOf(rows: readonly Row[], body: readonly Row[], beforeS: number): { step: number; lastS: number } {
  const [from = Number.NaN] = body[0] ?? [];
  const [to = Number.NaN] = body.at(-1) ?? [];
  if (body.length === 1) return { step: beforeS, lastS: beforeS };
  const step = (to - from) / (body.length - 1);
  const next = rows.find(([t]) => t > to);
  if (step > 0 || !next) return { step, lastS: step };
  return { step: (next[0] - from) / body.length, lastS: next[0] - from };
}

/** Draws so far apart, as a part of the higher one, are not both the starter's: compressions and speed move its own by less. */
const NEXT_LEVEL = 0.65;

/**
 * Of what follows the inrush, that which the starter draws: where it lets go, what draws on (glow plugs, fans, all that the generator
 * does not carry yet) keeps to a level of its own. Parted where two levels fit best.
 */
function startersOf(late: readonly number[]): readonly number[] {
  const total = late.reduce((sum, x) => sum + x, 0);
  let [cut, best, sum] = [late.length, 0, 0];
  for (let n = 1; n < late.length; n++) {
    sum += late[n - 1] ?? 0;
    const [before, after] = [sum / n, (total - sum) / (late.length - n)];
    const gain = n * (late.length - n) * (before - after) ** 2;
    if (after < NEXT_LEVEL * before && gain > best) [cut, best] = [n, gain];
  }
  return cut < late.length ? startersOf(late.slice(0, cut)) : late;
}

/** The rows in which the starter turns, and the one that draws (or dips) most. `depth`: of a row, A or V. */
function bodyOf(hot: readonly Row[], depth: (row: Row) => number): { body: readonly Row[]; peak: Row | undefined } {
  const peak = hot.reduce((best, row) => (best && !(depth(row) > depth(best)) ? best : row), hot[0]);
  if (!peak) return { body: [], peak };
  const late = startersOf(hot.filter(([t]) => t > peak[0] + INRUSH_S).map(depth));
  const plateau = late.length >= LEAST_ROWS ? quantile(late, PLATEAU_QUANTILE) : null;
  // A load such as glow plugs may lead into the crank: it begins where the draw rises above most of the plateau.
  const begins = plateau === null ? OF_INRUSH * depth(peak) : OF_PLATEAU * plateau;
  // What keeps drawing once the engine runs (glow plugs, fans) is not the starter.
  const ends = OF_PLATEAU * (plateau ?? PLATEAU_OF_INRUSH * depth(peak));
  const top = hot.indexOf(peak);
  const first = hot.findLastIndex((row, k) => k < top && !(depth(row) >= begins)) + 1;
  const last = hot.findLastIndex((row, k) => k <= first || !(depth(row) < ends));
  return { body: hot.slice(first, last + 1), peak };
}

/** In rows so far apart, s, a voltage that is the very same in all is one reading that the logger wrote again: the inrush, perhaps. */
const HOLDS_S = 0.5;
const isOneReading = (rows: readonly Row[]) => new Set(voltsOf(rows)).size === 1;

/** Of the mean, over so many rows: less scatter is none of a starter's. Common practice, no source. */
const FLAT_SHARE = 0.02;
const FLAT_ROWS = 4;

function isFlat(body: readonly Row[]): boolean {
  const amps = body
    .slice(1, -1)
    .map(([, , i]) => Math.abs(i))
    .filter(known);
  return amps.length >= FLAT_ROWS && Math.max(...amps) - Math.min(...amps) < FLAT_SHARE * mean(amps);
}

/** No starter turns with so little, A, at so high a voltage, V for 12 V; one that did draws so much more before. Common practice, no source. */
const RUNS_ON_MOST_A = 60;
const RUNS_ON_LEAST_V = 11.6;
const STARTER_MORE = 1.5;

/** Rows without those at the end in which the engine's consumers draw on after the starter has let go. */
function withoutRunOn(rows: readonly Row[], scale: number): readonly Row[] {
  const mostA = Math.max(...rows.map(([, , i]) => Math.abs(i) || 0));
  const isRunOn = ([, v, i]: Row) =>
    v >= RUNS_ON_LEAST_V * scale && Math.abs(i) < Math.min(RUNS_ON_MOST_A, mostA / STARTER_MORE);
  return rows.slice(0, rows.findLastIndex((row, k) => k === 0 || !isRunOn(row)) + 1);
}

/** Mean draw and lowest voltage from `beganAt` to `endedAt`; null where one of them is not known. */
export function measureLoad(rows: readonly Row[], beganAt: number, endedAt: number): HeavyLoad | null {
  const hot = rows.filter(([t]) => t >= beganAt && t <= endedAt);
  const amps = hot.map(([, , i]) => Math.abs(i)).filter(known);
  const volts = voltsOf(hot);
  if (amps.length === 0 || volts.length === 0) return null;
  const stepS = hot.length > 1 ? (endedAt - beganAt) / (hot.length - 1) : 0;
  return {
    at: beganAt,
    seconds: endedAt - beganAt + stepS,
    meanA: mean(amps),
    voltsMin: Math.min(...volts),
  };
}

/** Rows of so long before, s, or the last one where the log is slower; the very last, s, may hold part of the change. */
const BEFORE_S = 1.5;
const CHANGING_S = 0.03;

function lastBefore(rows: readonly Row[], t: number): readonly Row[] {
  const near = rows.filter(([at]) => at >= t - BEFORE_S && at <= t - CHANGING_S);
  return near.length ? near : rows.filter(([at]) => at < t).slice(-1);
}

/** What it settles to shows after this, s, in so many rows at the least; what it was before shows from so many rows that a single one may differ. */
const SETTLES_S = 0.5;
const SETTLED_ROWS = 3;
const HIGH_QUANTILE = 0.9;

/** V; of a few rows the highest. */
function settledV(after: readonly Row[], stoppedAt: number): number {
  const volts = voltsOf(after.filter(([t]) => t >= stoppedAt + SETTLES_S));
  return volts.length >= SETTLED_ROWS ? median(volts) : Math.max(...voltsOf(after));
}

/** V; of what is kept of the time before. */
function highV(earlier: readonly Row[], beganAt: number): number {
  return quantile(voltsOf(earlier.filter(([t]) => t <= beganAt - CHANGING_S)), HIGH_QUANTILE);
}

function waveOf(rows: readonly Row[]) {
  const column = (k: 0 | 1 | 2) => Float64Array.from(rows, (row) => row[k]);
  return { t: column(0), v: column(1), i: column(2) };
}

const voltsOf = (rows: readonly Row[]) => rows.map(([, v]) => v).filter(known);
const meanOrNull = (xs: readonly number[]) => (xs.length ? mean(xs) : null);
