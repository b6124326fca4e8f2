/** Whether a deep draw or dip was a crank: by its depth, its length, and what came before and after it. */
import { median } from '../../battery/statistics.ts';
import { known, type Row } from './raw-crank.ts';

export interface CrankRules {
  /** System voltage / 12 V. */
  readonly scale: number;
  /** A battery that keeps more than this is being charged, by an engine that runs, V. */
  readonly chargedV: number;
  /** A hybrid's consumers may draw much for a moment; only a real starter motor passes the higher bar. */
  readonly strict: boolean;
}

/** Silence that hides the edge of a dip, s; more in a slow log. Common practice, no source, as are all figures here. */
const HOLE_S = 0.4;
const HOLE_STEPS = 2.5;
const USUAL_STEPS = 1.5;
/** So long before a dip the supply must have been there, s. */
const QUIET_S = 1;

/**
 * Without current a dip is all there is: it must be seen from edge to edge. Where readings fail on the way in, within it
 * or on the way out, the logger's supply was going, or coming back.
 */
export function isSeenWhole(rows: readonly Row[], at: number, stoppedAt: number, step: number): boolean {
  const times = rows.filter(([, v]) => known(v)).map(([t]) => t);
  const first = times.findIndex((t) => t >= at - QUIET_S) - 1;
  const last = times.findIndex((t) => t > stoppedAt);
  if (first < 0 || last < 0) return false;
  const mostS = Math.max(HOLE_S, HOLE_STEPS * step);
  // A logger that is woken by the dip has rows no closer before it than it had.
  const stepsS = times.slice(1, times.findLastIndex((t) => t < at) + 1).map((t, k) => t - (times[k] ?? t));
  const [, usualS = 0] = stepsS.toSorted((a, b) => b - a);
  const beforeS = Math.max(mostS, USUAL_STEPS * usualS);
  const near = times.slice(first, last + 1);
  return near.every((t, k) => {
    const from = near[k - 1] ?? t;
    return !(t - from > (from < at ? beforeS : mostS));
  });
}

export interface Shape {
  readonly voltsBefore: number;
  readonly voltsMin: number;
  /** A; null where it is told by voltage alone. */
  readonly ampsPeak: number | null;
  readonly seconds: number;
  /** From row to row, s. */
  readonly step: number;
  readonly recovered: boolean;
  /** The voltage went, seen closely, from that of a battery nobody charges straight through the dip to that of one that is. */
  readonly charges: boolean;
  /** Right before it neither voltage nor current moved: no engine ran, whatever charges or has charged the battery. */
  readonly steady: boolean;
  /** The log has no current that could speak against it. */
  readonly isAlone?: boolean;
}

/** Change from row to row at the most: V, for 12 V, and A, of a current as large as it may be; over so long, in so many rows. */
const STEADY_V = 0.006;
const STEADY_A = 0.04;
const STEADY_SHARE = 0.002;
const STEADY_S = 3;
const STEADY_ROWS = 4;
/** In or out at the least, A: a sensor that reads nothing tells nothing. */
const FLOWS_A = 0.3;

/** `earlier`: rows before it, of which the last may hold part of it. */
export function isSteady(earlier: readonly Row[]): boolean {
  const [end = Number.NaN] = earlier.at(-1) ?? [];
  const last = earlier.slice(0, -1).filter(([t]) => t >= end - STEADY_S);
  if (last.length < STEADY_ROWS) return false;
  const changes = (column: 1 | 2) => {
    const values = last.map((row) => row[column]);
    return median(values.slice(1).map((value, k) => Math.abs(value - (values[k] ?? Number.NaN))));
  };
  const amps = Math.abs(median(last.map(([, , i]) => i)));
  return amps >= FLOWS_A && changes(1) < STEADY_V && changes(2) < STEADY_A + STEADY_SHARE * amps;
}

/** No steering or braking takes so much from the battery, A, for so long, s; nor pulls a charged one so low, V for 12 V. */
const STARTER_A = 150;
const STARTER_S = 0.3;
const STARTER_V = 11.5;
/** So much for so short, down to so little, s and V for 12 V: a starter's also where charging has left, or a charger keeps, a high voltage. */
const GREAT = { leastA: 200, seconds: 3, volts: 12.5 };
/** Shorter is a switch that bounces, s, where the rows are closer than the other. */
const BOUNCE_S = 0.1;
const BOUNCE_STEP_S = 0.05;
/** By current: so deep, V for 12 V, with so much drawn, A. Of a hybrid; of an engine that ran after it; of any other attempt. */
const STRICT = { dipV: 1.5, leastA: 150 };
const STARTED = { dipV: 0.15, leastA: 80 };
const TRIED = { dipV: 0.4, leastA: 120 };
/** A small starter on a small battery, or one behind a bad contact, pulls it down to where nothing else does for so short, V for 12 V and s. */
const SMALL = { dipV: 1.5, leastA: 60 };
const SMALL_V = 11;
const SMALL_S = 3;
/** By voltage alone: at the most so long, s; so deep and to below so many volts, for 12 V. A generator that charges after it says more. */
const ALONE_S = 30;
const ALONE_RUNNING_V = 11;
const ALONE_CHARGES = { dipV: 0.35, seconds: 0.2 };
const ALONE = { dipV: 0.75, belowV: 11.6 };
/** In rows this close, s, a starter's inrush is seen, and goes below this, V. */
const INRUSH_SEEN_S = 0.25;
const INRUSH_V = 11;
const ALONE_STARTED = { dipV: 0.5, belowV: 12.1 };

export function isCrank(crank: Shape, { scale, strict, chargedV }: CrankRules): boolean {
  const { ampsPeak, seconds, voltsBefore, voltsMin } = crank;
  const dip = voltsBefore - voltsMin;
  if (!(dip > 0)) return false;
  // With the engine running a short deep draw is steering or brakes, unless the dip goes where only a starter takes it.
  const isGreat =
    ampsPeak !== null && ampsPeak >= GREAT.leastA && seconds < GREAT.seconds && voltsMin < GREAT.volts * scale;
  const isStarters = (isGreat || (crank.steady && ampsPeak !== null && ampsPeak >= STARTER_A)) && seconds > STARTER_S;
  if (voltsBefore >= chargedV && !(voltsMin < STARTER_V * scale) && !isStarters) return false;
  if (seconds < BOUNCE_S && crank.step < BOUNCE_STEP_S) return false;
  if (ampsPeak === null) return isCrankByVoltage(crank, dip, scale, chargedV);
  const passes = ({ dipV, leastA }: typeof TRIED) => dip >= dipV * scale && ampsPeak >= leastA;
  if (strict) return passes(STRICT);
  const isSmall = passes(SMALL) && voltsMin < SMALL_V * scale && seconds < SMALL_S;
  return (crank.recovered && passes(STARTED)) || passes(TRIED) || isSmall;
}

function isCrankByVoltage(crank: Shape, dip: number, scale: number, chargedV: number): boolean {
  const { seconds, voltsBefore, voltsMin } = crank;
  if (seconds > ALONE_S + crank.step) return false;
  // A running engine's supply dips too; only a starter's goes below what a battery rests at.
  if (voltsBefore >= chargedV && voltsMin >= ALONE_RUNNING_V * scale) return false;
  if (crank.charges && dip >= ALONE_CHARGES.dipV * scale && seconds >= ALONE_CHARGES.seconds) return true;
  const passes = ({ dipV, belowV }: typeof ALONE) => dip >= dipV * scale && voltsMin < belowV * scale;
  const isSeen = !crank.isAlone || crank.step > INRUSH_SEEN_S || voltsMin < INRUSH_V * scale;
  const isDeep = passes(ALONE) && isSeen;
  return isDeep || (crank.recovered && passes(ALONE_STARTED));
}
