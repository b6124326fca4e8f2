/** What it takes to go from one state to another between two segments: a penalty in natural-log units. Common practice, no source. */

import { KEY_ON_A, type Levels, LIGHTS_S, seenIn } from './evidence.ts';
import type { Segment } from './segments.ts';
import type { State } from './state.ts';

/** What is known of the place between two segments. */
export interface Border {
  readonly before: Segment;
  readonly after: Segment;
  /** A crank begins the segment, or lies right before it (within the time in which a generator takes over). */
  readonly isStart: boolean;
  /** The voltage alone shows a dip that only a starter makes. */
  readonly isDip: boolean;
  /** Draw in the seconds before and after, A; NaN where not known. */
  readonly drawBeforeA: number;
  readonly drawAfterA: number;
  /** A minute after, A; NaN where not known. */
  readonly drawLaterA: number;
  /** How sure it is that a start here would have been seen: penalty of one that was not. */
  readonly unseenStart: number;
  /** What is known of this vehicle. */
  readonly levels: Levels;
}

/** How long a vehicle is open before it starts, and draws amperes after it was left, s: rows further apart may miss it. */
const OPENING_S = 10;
const SHUTDOWN_S = 120;
/** Voltage before over that after, at the least, where charging ends. */
const COLLAPSES = 1.015;
/** A parked vehicle that draws amperes seldom asks for so much more, A and as a part of it; one that runs does all the time. */
const MORE_A = 2;
const MORE_SHARE = 0.15;
const SWITCHED_ON = 0.8;
/** A charger seldom pauses; the sun does. */
const CHARGER_PAUSES = 0.7;
const CHARGER_RISES = 0.8;
const RISES_A = 5;
/** A hole longer than this may hide anything, s. */
const LONG_HOLE_S = 600;
const LOST = 3;
/** Nobody sits in an opened vehicle for longer before the start, s. */
const OPENED_S = 900;
/** What is drawn for long stands for no more than this, A. */
const DRAWN_ON_A = 0.5;
/** A shutdown's stages draw less, A. */
const FALLS_BELOW_A = 10;

export function moveCost(from: State, to: State, border: Border): number {
  const cost = usualCost(from, to, border);
  const { holeS } = border.after;
  // In a long hole the vehicle may have been driven and parked again.
  return holeS > LONG_HOLE_S ? Math.min(cost, from === to ? 0 : LOST) : cost;
}

function usualCost(from: State, to: State, border: Border): number {
  if (from === to) {
    if (from === 'driving') return goOnCost(border);
    if (from === 'parked' || from === 'key-on') return switchedOn(border) ? SWITCHED_ON : 0;
    return from === 'on-charger' ? chargesOnCost(border) : 0;
  }
  if (to === 'driving') return startCost(from, border);
  if (from === 'driving') return stopCost(to, border);
  if (from === 'unknown' || to === 'unknown')
    return (border.isStart || border.isDip ? 3 : 0) + (Number.isNaN(border.after.drawA) ? 1.5 : 2.5);
  if (to === 'key-on') return from === 'parked' ? 1.5 : 3;
  if (from === 'key-on') return to === 'parked' ? 1 : 3;
  // Somebody who connects a charger may have opened the vehicle.
  const openA = to === 'parked' ? leftA(border) : openedA(border);
  const usual = openA >= KEY_ON_A ? 4 : 2;
  if (to === 'parked') return usual;
  // What feeds begins with feeding, and no starter turns before it.
  return usual + (border.isDip || border.isStart ? 3 : 0) + (border.after.isFed ? 0 : 3);
}

// A single row may hold a part of one and the same rise; and who opens a vehicle to drive asks for more and more.
const switchedOn = ({ before, after }: Border) =>
  before.rows >= 3 &&
  !(after.againS !== null && after.againS < LIGHTS_S) &&
  before.drawA >= KEY_ON_A &&
  after.drawA > before.drawA + Math.max(MORE_A, MORE_SHARE * before.drawA);

/** What a charger gives holds or sinks; that it rises again and again is an engine whose consumers are switched. */
function chargesOnCost({ before, after }: Border): number {
  if (before.isFed !== after.isFed) return CHARGER_PAUSES;
  const risesA = before.drawA - after.drawA;
  return after.isFed && before.drawA < 0 && risesA > Math.max(RISES_A, -MORE_SHARE * before.drawA) ? CHARGER_RISES : 0;
}

const stepAt = ({ before, after }: Border) => Math.min(before.stepS, after.stepS);

/** A start ends what went before it, though engines stop at lights; and a draw that only falls is that of a vehicle shutting down. */
function goOnCost({ before, after, levels: { pausesS } }: Border): number {
  if (after.crank >= 0) return 1;
  // Where charging never paused for longer than at lights, or than this regulator lets it, its end is that of the drive.
  const collapses = before.isFed && !after.isFed && before.volts > COLLAPSES * after.volts;
  const pauses = after.againS !== null && after.againS <= Math.max(LIGHTS_S, 2 * pausesS);
  if (collapses && !pauses) return pausesS > 0 ? 0.5 : 2;
  const falls = !before.isFed && !after.isFed && after.drawA < 0.8 * before.drawA && after.drawA < FALLS_BELOW_A;
  // Where consumers are switched up again and again, down says little.
  return falls ? (after.isSwitched ? 0.2 : 0.6) : 0;
}

/** Draw of a vehicle that has just been opened, A; what has been drawn for long says nothing of that. */
const openedA = ({ before, drawBeforeA }: Border) => (before.seconds < OPENED_S ? drawBeforeA : DRAWN_ON_A);

function startCost(from: State, border: Border): number {
  if (border.isStart) return from === 'top-up' ? 1 : 0;
  const opened = from === 'key-on' || openedA(border) >= KEY_ON_A;
  const quiet = border.drawBeforeA < border.levels.quietA;
  // Who takes a charger off and then starts lets the battery rest for a moment.
  const fedOn = border.before.isFed && border.after.isFed;
  const unprepared = seenIn(stepAt(border), OPENING_S) * ((opened ? 0 : 1) + (quiet ? 2 : 0));
  return (border.isDip ? 0 : border.unseenStart + (fedOn ? 2 : 0)) + noSign(border) + unprepared;
}

/** After a start something feeds, or more is drawn: where neither is so nothing has begun. */
const NO_SIGN = 3;
const noSign = ({ before, after, isDip }: Border) =>
  isDip || after.isFed || after.holeS > 0 || !(after.drawA <= before.drawA) ? 0 : NO_SIGN;

function stopCost(to: State, border: Border): number {
  if (to === 'unknown') return Number.isNaN(border.after.drawA) ? 2 : 3;
  if (to === 'on-charger' || to === 'top-up') return 4;
  return keyOffCost(border) + (comesBack(border) ? 2 : 0);
}

/** Charging ends, and will go on again as it always does in this log. */
const comesBack = ({ after, unseenStart, levels: { pausesS } }: Border) =>
  !after.isFed &&
  after.againS !== null &&
  after.againS > 0 &&
  after.againS <= 2 * pausesS &&
  (after.drawA >= KEY_ON_A || (unseenStart < 1 && after.againS <= pausesS));

/** As much as before, as a part of it: nobody was in it. */
const AS_BEFORE = 1.25;

/** Within a minute it draws again what it drew for long before something fed it. */
const isAsBefore = ({ before, drawAfterA, drawLaterA }: Border) =>
  Math.min(drawAfterA, drawLaterA) <= AS_BEFORE * before.drawnBeforeA;

/** What a vehicle that was left still draws, A: what is gone within a minute, or was drawn for long before, is no shutdown's. */
function leftA(border: Border): number {
  const { drawAfterA, drawLaterA, levels } = border;
  if (isAsBefore(border)) return Math.min(drawAfterA, DRAWN_ON_A);
  return drawLaterA < levels.goneA ? drawLaterA : drawAfterA;
}

function keyOffCost(border: Border): number {
  // What is gone within a minute tells a top-up from a drive; where a starter turns, some are left that quickly.
  const { isCombustion, quietA, leavesQuiet } = border.levels;
  const drawA = isCombustion ? border.drawAfterA : leftA(border);
  // No vehicle draws so little right after it was driven, but one without modules; in a slow log a minute or two may have gone by.
  const isQuiet = drawA < quietA || (!isCombustion && isAsBefore(border));
  if (isQuiet && !leavesQuiet) return 2.5 + 3 * seenIn(stepAt(border), SHUTDOWN_S);
  return drawA >= KEY_ON_A ? 2 : 2.5;
}

/** What a log may begin with. Without current, what lifts the voltage at its begin is not known. */
export function beginCost(state: State, { hasCurrent, showsStarts }: Levels): number {
  if (!hasCurrent && state === 'unknown') return 1.5;
  if (!hasCurrent && state === 'on-charger') return 7;
  if (!hasCurrent && state === 'driving') return showsStarts ? 0.5 : 7;
  return { parked: 0, 'key-on': 2, driving: 1.5, 'on-charger': 1, 'top-up': 1.5, unknown: 2.5 }[state];
}
