/**
 * What the technician wrote down while fitting, held against the log: does its clock agree, does the memory supply's voltage
 * appear, does the first parked current agree with what was read off? No check of its own: it is asked before the vehicle is given
 * back, when a wrong answer can still be mended. Widths: common practice, no source.
 */
import type { Analysis } from '../analysis/model.ts';
import { perTwelveVolt } from '../battery/chemistry.ts';
import type { Session } from '../manifest/session.ts';
import { levelU } from './sensor.ts';

export type Agreement = 'agrees' | 'disagrees' | 'unknown';

export interface FittingAnswer {
  readonly what: 'clock-start' | 'clock-end' | 'memory-supply' | 'draw-at-start';
  readonly agrees: Agreement;
  /** Why it does not, or why that is not known. */
  readonly reason:
    | 'not-told'
    | 'near-whole-hours'
    | 'log-early'
    | 'log-late'
    | 'not-in-log'
    | 'other-voltage'
    | 'other-sign'
    | 'other-draw'
    | null;
  /** As written down, and as found in the log: V, A, or s since the epoch; null where there is none. */
  readonly stated: number | null;
  readonly found: { readonly low: number; readonly high: number } | null;
}

/** Fitting takes a while on both sides of the moment that was written down, s. */
const CLOCK = { before: 30 * 60, after: 45 * 60 };
/** A difference this close to whole hours looks like a time zone or summer time, s. */
const WHOLE_HOURS_S = 15 * 60;
/** The memory supply is off by then, s. */
const FITTING_S = 2 * 3600;
/** Another meter, at the other end of a cable, V for 12 V. */
const OTHER_METER_V = 0.2;
/** Still as it was when the display was read, s. */
const AT_START_S = 600;
/** Of the figure read off: the display moves while it is read. */
const READ_OFF = 0.1;

/** One answer for each thing that could be asked; those that nobody wrote down say `not-told`. */
export function compareFitting(analysis: Analysis, session: Session): FittingAnswer[] {
  const { install } = session;
  const seconds = (ms: number | undefined) => (ms === undefined ? null : ms / 1000);
  return [
    clock('clock-start', seconds(install.fittedAtMs), analysis.start),
    clock('clock-end', seconds(install.removedAtMs), analysis.end),
    ...(install.memorySaver?.used === false ? [] : [memorySupply(analysis, session)]),
    drawAtStart(analysis, session),
  ];
}

function clock(what: 'clock-start' | 'clock-end', stated: number | null, found: number): FittingAnswer {
  if (stated === null) return notTold(what);
  const lateS = found - stated;
  const span = { low: found, high: found };
  if (lateS >= -CLOCK.before && lateS <= CLOCK.after)
    return { what, agrees: 'agrees', reason: null, stated, found: span };
  const hours = Math.round(lateS / 3600);
  const zone = Math.abs(hours) <= 14 && Math.abs(lateS - hours * 3600) <= WHOLE_HOURS_S;
  return {
    what,
    agrees: 'disagrees',
    reason: zone ? 'near-whole-hours' : lateS < 0 ? 'log-early' : 'log-late',
    stated,
    found: span,
  };
}

function memorySupply(analysis: Analysis, session: Session): FittingAnswer {
  const what = 'memory-supply';
  const saver = session.install.memorySaver;
  const stated = saver?.used ? (saver.voltageDuringV ?? null) : null;
  if (stated === null) return notTold(what);
  const perTwelve = perTwelveVolt(session.vehicle.systemV);
  const U = levelU(stated, 'voltage', analysis, session) + OTHER_METER_V * perTwelve;
  const { tiles } = analysis;
  const until = Math.min(analysis.start + FITTING_S, firstDriveT(analysis) ?? analysis.end);
  let [low, high] = [Number.POSITIVE_INFINITY, Number.NEGATIVE_INFINITY];
  for (let k = 0; k < tiles.n && tiles.t0[k] < until; k++) {
    if (tiles.vMin[k] < low) low = tiles.vMin[k];
    if (tiles.vMax[k] > high) high = tiles.vMax[k];
  }
  const found = low <= high ? { low, high } : null;
  if (found && low <= stated + U && high >= stated - U) return { what, agrees: 'agrees', reason: null, stated, found };
  // All lower: the supply may have been off before the first row. Higher: something else charged it.
  if (!found || high < stated) return { what, agrees: 'unknown', reason: 'not-in-log', stated, found };
  return { what, agrees: 'disagrees', reason: 'other-voltage', stated, found };
}

function firstDriveT({ periods }: Analysis): number | undefined {
  return periods.find(({ kind }) => kind === 'driving' || kind === 'cranking')?.start;
}

function drawAtStart(analysis: Analysis, session: Session): FittingAnswer {
  const what = 'draw-at-start';
  const stated = session.install.drawAtStartA ?? null;
  if (stated === null) return notTold(what);
  const found = firstParkedDraw(analysis);
  if (!found) return { what, agrees: 'unknown', reason: 'not-in-log', stated, found };
  const U = levelU(stated, 'current', analysis, session) + READ_OFF * stated;
  const holds = (drawA: number) => drawA >= found.low - U && drawA <= found.high + U;
  if (holds(stated)) return { what, agrees: 'agrees', reason: null, stated, found };
  return { what, agrees: 'disagrees', reason: holds(-stated) ? 'other-sign' : 'other-draw', stated, found };
}

const PARKED: readonly string[] = ['key-on', 'settling', 'asleep', 'awake'];

/** Least and largest draw in the first minutes that the vehicle stands, A. */
function firstParkedDraw({ tiles, periods }: Analysis): FittingAnswer['found'] {
  const first = periods.find(({ kind }) => PARKED.includes(kind));
  if (!first) return null;
  const until = first.start + AT_START_S;
  let [low, high] = [Number.POSITIVE_INFINITY, Number.NEGATIVE_INFINITY];
  for (let k = 0; k < tiles.n && tiles.t0[k] < until; k++) {
    if (tiles.t0[k] < first.start || Number.isNaN(tiles.i[k])) continue;
    low = Math.min(low, -tiles.iMax[k]);
    high = Math.max(high, -tiles.iMin[k]);
  }
  return low <= high ? { low, high } : null;
}

function notTold(what: FittingAnswer['what']): FittingAnswer {
  return { what, agrees: 'unknown', reason: 'not-told', stated: null, found: null };
}
