/** What one crank shows, from its full-rate rows; and whether it was a crank at all. */
import { INRUSH_S } from '../../battery/cranking.ts';
import {
  linearFit,
  mean,
  meanU,
  median,
  quantile,
  slopeBeside,
  standardDeviation,
  twoPointResistance,
} from '../../battery/statistics.ts';
import { combine, rectangular } from '../../battery/uncertainty.ts';

/** [time s, volts, amperes as logged, °C] */
export type Row = readonly [number, number, number, number];

/** As found, before the sign of current is settled and before it is known whether the engine ran. */
export interface RawCrank {
  readonly at: number;
  readonly seconds: number;
  /** Rows while the starter turned. */
  readonly rows: number;
  readonly voltsBefore: number;
  readonly voltsMin: number;
  readonly plateau: { readonly volts: number; readonly scatterU: number; readonly n: number } | null;
  readonly ampsPeak: number | null;
  /** Mean draw while the starter turned, A. */
  readonly ampsMean: number | null;
  /** Its draw stands still, as a pump's does: a starter's ripples with every compression. */
  readonly isFlat: boolean;
  /** Draw just before it, A. */
  readonly ampsBefore: number | null;
  /** From how the voltage goes with the starter's current: see `resistanceOf`. */
  readonly resistance: RawResistance | null;
  readonly temperatureC: number | null;
  /** Sign of the logged current while cranking: −1 where the log writes a draw as negative; 0 without current. */
  readonly sign: -1 | 0 | 1;
  readonly recovered: boolean;
  readonly wave: { readonly t: Float64Array; readonly v: Float64Array; readonly i: Float64Array };
}

export interface RawResistance {
  readonly ohm: number;
  /** Standard uncertainty from scatter alone, and half of the width in which it may lie for what is not told apart. */
  readonly scatterU: number;
  readonly halfOhm: number;
}

/** A load of 50 A and more that is no starter's. */
export interface HeavyLoad {
  readonly at: number;
  readonly seconds: number;
  readonly meanA: number;
  readonly voltsMin: number;
}

export interface CrankRules {
  /** System voltage / 12 V. */
  readonly scale: number;
  /** A battery that keeps more than this is being charged, by an engine that runs, V. */
  readonly chargedV: number;
  /** A hybrid's consumers may draw much for a moment; only a real starter motor passes the higher bar. */
  readonly strict: boolean;
  /** Told by voltage alone: what current is known is not the starter's. */
  readonly byVoltage: boolean;
  /** Keep the waveform. */
  readonly wave: boolean;
}

/** Silence that hides the edge of a dip, s; more in a slow log. */
const HOLE_S = 0.4;
/** Less is no starter's current, A: then what is known of current tells nothing of the starter. */
const LEAST_A = 40;
/** Rows this close show what a dip leads to, s. */
const QUICK_S = 0.25;
/** And that long before it the supply must have been there, s. */
const QUIET_S = 1;

export function measureCrank(
  rows: readonly Row[],
  beganAt: number,
  endedAt: number,
  rules: CrankRules,
): RawCrank | null {
  const hot = withoutRunOn(
    rows.filter(([t]) => t >= beganAt && t <= endedAt),
    rules.scale,
  );
  // What goes round the sensor is seen by voltage alone.
  const withCurrent = !rules.byVoltage && hot.some(([, , i]) => Math.abs(i) >= LEAST_A);
  // Without current the dip stands in for it, from the voltage just before the event.
  const restV = median(
    lastBefore(rows, beganAt)
      .map(([, v]) => v)
      .filter(known),
  );
  const depth = (row: Row) => (withCurrent ? Math.abs(row[2]) || 0 : restV - row[1]);
  const peakRow = hot.reduce((best, row) => (depth(row) > depth(best) ? row : best), hot[0]);

  // A load such as glow plugs may lead into the crank: it begins where the draw rises above most of the plateau.
  const late = hot.filter(([t]) => t > peakRow[0] + INRUSH_S);
  // Where the plateau is too short to see, the inrush stands in for it: two to three times as high.
  // Not the middle: what keeps drawing after the starter may fill half of what is looked at.
  const plateau = late.length >= 3 ? quantile(late.map(depth), 0.75) : null;
  let first = hot.indexOf(peakRow);
  while (first > 0 && depth(hot[first - 1]) >= (plateau === null ? 0.5 * depth(peakRow) : 0.6 * plateau)) first--;
  const at = hot[first][0];

  const earlier = rows.filter(([t]) => t < at);
  if (earlier.length === 0) return null;
  const quiet = lastBefore(rows, at);
  const voltsBefore = median(quiet.map(([, v]) => v).filter(known));
  const ampsBefore = median(quiet.map(([, , i]) => i).filter(known));
  // What keeps drawing once the engine runs (glow plugs, fans) is not the starter.
  let last = hot.length - 1;
  while (last > first && depth(hot[last]) < 0.6 * (plateau ?? 0.6 * depth(peakRow))) last--;
  const body = hot.slice(first, last + 1);
  const stoppedAt = hot[last][0];
  const voltsMin = Math.min(...body.map(([, v]) => v).filter(known));
  const step = body.length > 1 ? (stoppedAt - at) / (body.length - 1) : at - earlier[earlier.length - 1][0];
  const seconds = stoppedAt - at + step;

  const after = rows.filter(([t]) => t > stoppedAt + Math.min(0.2, step / 2));
  const sign = withCurrent ? (Math.sign(peakRow[2]) as -1 | 0 | 1) : 0;
  const mostV = Math.max(...after.map(([, v]) => v).filter(known));
  const recovered =
    mostV >= Math.max(rules.chargedV - 0.1 * rules.scale, voltsBefore + 0.3 * rules.scale) ||
    (sign !== 0 && after.some(([, , i]) => i * sign < -1));
  const charges = voltsBefore < rules.chargedV - 0.1 * rules.scale && mostV >= rules.chargedV && step < QUICK_S;
  const ampsPeak = withCurrent ? Math.abs(peakRow[2]) : null;
  if (!withCurrent && !isSeenWhole(rows, at, stoppedAt, step)) return null;
  if (
    !plausible(
      { voltsBefore, voltsMin, ampsPeak, seconds, step, recovered, charges, steady: isSteadilyFed(earlier, sign) },
      rules,
    )
  )
    return null;

  const settled = body.filter(([t, v]) => t >= at + INRUSH_S && t <= stoppedAt && known(v));
  const plateauV = settled.length >= 3 ? plateauOf(settled) : null;
  return {
    at,
    seconds,
    rows: body.length,
    voltsBefore,
    voltsMin,
    plateau: plateauV,
    ampsPeak,
    ampsMean: withCurrent ? mean(body.map(([, , i]) => Math.abs(i)).filter(known)) : null,
    isFlat: withCurrent && isFlat(body),
    ampsBefore: withCurrent && known(ampsBefore) ? Math.abs(ampsBefore) : null,
    resistance: plateauV && withCurrent ? resistanceOf(body, settled, voltsBefore, ampsBefore) : null,
    temperatureC: meanOrNull(rows.map(([, , , temp]) => temp).filter(known)),
    sign,
    recovered,
    wave: waveOf(rules.wave ? rows.filter(([t]) => t >= at - 1 && t <= stoppedAt + 3) : []),
  };
}

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
  let n = rows.length;
  const isRunOn = ([, v, i]: Row) =>
    v >= RUNS_ON_LEAST_V * scale && Math.abs(i) < Math.min(RUNS_ON_MOST_A, mostA / STARTER_MORE);
  while (n > 1 && isRunOn(rows[n - 1])) n--;
  return rows.slice(0, n);
}

/** Mean draw and lowest voltage from `beganAt` to `endedAt`; null where current is not known. */
export function measureLoad(rows: readonly Row[], beganAt: number, endedAt: number): HeavyLoad | null {
  const hot = rows.filter(([t]) => t >= beganAt && t <= endedAt);
  const amps = hot.map(([, , i]) => Math.abs(i)).filter(known);
  if (amps.length === 0) return null;
  const stepS = hot.length > 1 ? (endedAt - beganAt) / (hot.length - 1) : 0;
  return {
    at: beganAt,
    seconds: endedAt - beganAt + stepS,
    meanA: mean(amps),
    voltsMin: Math.min(...hot.map(([, v]) => v).filter(known)),
  };
}

/** Rows of the last 1.5 s before `t`, or the last one where the log is slower; the very last may hold part of the change. */
function lastBefore(rows: readonly Row[], t: number): readonly Row[] {
  const near = rows.filter(([at]) => at >= t - 1.5 && at <= t - 0.03);
  return near.length ? near : rows.filter(([at]) => at < t).slice(-1);
}

/**
 * Without current a dip is all there is: it must be seen from edge to edge. Where readings fail on the way in, within it
 * or on the way out, the logger's supply was going, or coming back.
 */
function isSeenWhole(rows: readonly Row[], at: number, stoppedAt: number, step: number): boolean {
  const times = rows.filter(([, v]) => known(v)).map(([t]) => t);
  const first = times.findIndex((t) => t >= at - QUIET_S) - 1;
  const last = times.findIndex((t) => t > stoppedAt);
  if (first < 0 || last < 0) return false;
  for (let k = first; k < last; k++) if (times[k + 1] - times[k] > Math.max(HOLE_S, 2.5 * step)) return false;
  return true;
}

interface Shape {
  voltsBefore: number;
  voltsMin: number;
  ampsPeak: number | null;
  seconds: number;
  step: number;
  recovered: boolean;
  /** The voltage went, seen closely, from that of a battery nobody charges straight through the dip to that of one that is. */
  charges: boolean;
  /** Right before it neither voltage nor current moved: a charger fed, and no engine. */
  steady: boolean;
}

/** Change from row to row at the most: V, for 12 V, and A, of a current as large as it may be. */
const STEADY_V = 0.006;
const STEADY_A = 0.04;
const STEADY_SHARE = 0.002;
const STEADY_S = 3;
/** Into the battery at the least, A. */
const FED_A = 0.3;
/** No steering or braking takes so much from the battery, A, for so long, s. */
const STARTER_A = 150;
const STARTER_S = 0.3;

function isSteadilyFed(earlier: readonly Row[], sign: number): boolean {
  const last = earlier.slice(0, -1).filter(([t]) => t >= earlier[earlier.length - 1][0] - STEADY_S);
  if (last.length < 4) return false;
  const changes = (column: 1 | 2) => median(last.slice(1).map((row, k) => Math.abs(row[column] - last[k][column])));
  const intoA = -sign * median(last.map(([, , i]) => i));
  const amps = Math.abs(intoA);
  return intoA >= FED_A && changes(1) < STEADY_V && changes(2) < STEADY_A + STEADY_SHARE * amps;
}

function plausible(crank: Shape, { scale, strict, chargedV }: CrankRules): boolean {
  const dip = crank.voltsBefore - crank.voltsMin;
  const deep = crank.voltsMin < 11.5 * scale;
  if (!(dip > 0)) return false;
  // With the engine running a short deep draw is steering or brakes, unless the dip goes where only a starter takes it.
  const isStarters =
    crank.steady && crank.ampsPeak !== null && crank.ampsPeak >= STARTER_A && crank.seconds > STARTER_S;
  if (crank.voltsBefore >= chargedV && !deep && !isStarters) return false;
  if (crank.seconds < 0.1 && crank.step < 0.05) return false;
  if (crank.ampsPeak === null) {
    if (crank.seconds > 30 + crank.step) return false;
    // A running engine's supply dips too; only a starter's goes below what a battery rests at.
    if (crank.voltsBefore >= chargedV && crank.voltsMin >= 11 * scale) return false;
    if (crank.charges && dip >= 0.35 * scale && crank.seconds >= 0.2) return true;
    return (
      (dip >= 0.75 * scale && crank.voltsMin < 11.6 * scale) ||
      (crank.recovered && dip >= 0.5 * scale && crank.voltsMin < 12.1 * scale)
    );
  }
  if (strict) return dip >= 1.5 * scale && crank.ampsPeak >= 150;
  return (
    (crank.recovered && dip >= 0.15 * scale && crank.ampsPeak >= 80) || (dip >= 0.4 * scale && crank.ampsPeak >= 120)
  );
}

/**
 * Mean after the inrush. The ripple of the compressions is there, and no error: where current is known, only what it does not
 * explain scatters. What is left is where the plateau ends, anywhere between two rows at either side.
 */
function plateauOf(settled: readonly Row[]) {
  const volts = settled.map(([, v]) => v);
  const n = volts.length;
  const middle = mean(volts);
  const ends = [volts[0], volts[n - 1]].map((v) => rectangular((v - middle) / n));
  const whole = settled.filter(([, , i]) => known(i));
  const noise = whole.length === n ? scatterBeside(settled) : meanU(volts) * Math.sqrt(n);
  return { volts: middle, scatterU: combine(noise / Math.sqrt(n), ...ends), n };
}

/** Standard deviation of the voltages about a line over the currents. */
function scatterBeside(rows: readonly Row[]): number {
  const fit = linearFit(
    rows.map(([, , i]) => i),
    rows.map(([, v]) => v),
  );
  return fit && Number.isFinite(fit.residualSd) ? fit.residualSd : standardDeviation(rows.map(([, v]) => v));
}

/** What surface charge and polarisation may add to a resistance that is taken from rest to the plateau. Common practice, no source. */
const SLOW_SHARE = 0.25;

/**
 * Internal resistance: the slope of voltage on current while the starter's current changes by inrush and compressions, beside what
 * the charge drawn meanwhile takes off (polarisation). Where the rows are too few for it, the fall from rest to the plateau,
 * which holds slower processes too. The surer of both.
 */
function resistanceOf(
  body: readonly Row[],
  settled: readonly Row[],
  voltsBefore: number,
  ampsBefore: number,
): RawResistance | null {
  const rows = body.filter(([, v, i]) => known(v) && known(i));
  const amps = rows.map(([, , i]) => Math.abs(i));
  const drawn = rows.map(() => 0);
  for (let k = 1; k < rows.length; k++)
    drawn[k] = drawn[k - 1] + ((amps[k] + amps[k - 1]) / 2) * (rows[k][0] - rows[k - 1][0]);
  const volts = rows.map(([, v]) => v);
  // Polarisation follows the charge, and fades from doing so: how much the bend matters is how far it may be off.
  const straight = slopeBeside(amps, volts, [drawn]);
  const bent = slopeBeside(amps, volts, [drawn, drawn.map((as) => as * as)]);
  const fall = fallToPlateau(settled, voltsBefore, ampsBefore);
  if (!straight || !bent || !(bent.value < 0)) return fall;
  const halfOhm = Math.abs(bent.value - straight.value);
  const slope = { ohm: -bent.value, scatterU: bent.u, halfOhm };
  return fall && doubt(fall) < doubt(slope) ? fall : slope;
}

const doubt = ({ scatterU, halfOhm }: RawResistance) => combine(scatterU, rectangular(halfOhm));

/** Two points: just before, and the mean after the inrush. Voltage and current ripple together, so only what each leaves of the other scatters. */
function fallToPlateau(settled: readonly Row[], voltsBefore: number, ampsBefore: number): RawResistance | null {
  const both = settled.filter(([, , i]) => known(i));
  if (both.length < 3 || !known(ampsBefore)) return null;
  const volts = both.map(([, v]) => v);
  const amps = both.map(([, , i]) => Math.abs(i));
  const exact = { uAmperes: 0, uVolts: 0 };
  const rest = { amperes: Math.abs(ampsBefore), volts: voltsBefore, ...exact };
  const loaded = { amperes: mean(amps), volts: mean(volts), ...exact };
  const found = twoPointResistance(rest, loaded);
  if (!found) return null;
  const ohm = found.value;
  const left = both.map((_, k) => volts[k] + ohm * amps[k]);
  const scatterU = meanU(left) / Math.abs(loaded.amperes - rest.amperes);
  return { ohm, scatterU, halfOhm: SLOW_SHARE * ohm };
}

function waveOf(rows: readonly Row[]) {
  const column = (k: 0 | 1 | 2) => Float64Array.from(rows, (row) => row[k]);
  return { t: column(0), v: column(1), i: column(2) };
}

const known = (x: number) => !Number.isNaN(x);
const meanOrNull = (xs: readonly number[]) => (xs.length ? mean(xs) : null);
