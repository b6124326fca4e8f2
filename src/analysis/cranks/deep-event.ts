/**
 * Something deep under way: the draw or dip itself, what comes after it, or what lasts too long for a starter. Here is what follows
 * what, row by row; what begins it and what goes on with it says `dips.ts`. All figures are common practice, no source.
 */

import { DEEP_A, type Dips, IDLE_A } from './dips.ts';
import type { Row } from './raw-crank.ts';
import type { Phase, UsualLevels } from './usual.ts';

/** The starter is off once its draw has been gone this long, s: longer than a compression stroke takes at crank speed. */
const QUIET_S = 0.25;
/** Rows kept before (s) and after (s) the event, and how many after it at the least. */
const BEFORE_S = 4;
const AFTER_S = 4;
const AFTER_ROWS = 2;
/** Longer than this is some other load (a heater, an inverter), s. */
const LONGEST_S = 60;
/** A level kept this long is one; a supply lost this near to an event belongs to it, s. */
export const SETTLED_S = 1;
/** The level of a draw follows within this time, so that the inrush is forgotten by the time the plateau counts; its highest fades, s. */
const LEVEL_S = 0.2;
const FADES_S = 3;
/** The inrush, up to four times what follows, is over and forgotten after this, s. */
const INRUSH_OVER_S = 0.6;
/** A fall that no current explains belongs to the draw under way where that is as many times its highest level. */
const OWN_DRAW = 2;

export interface DeepEvent {
  phase: Phase;
  readonly rows: Row[];
  readonly beganAt: number;
  endedAt: number;
  /** Voltage before it, V; its level and the highest of it, see `Held`. */
  readonly before: number;
  level: number;
  most: number;
  readonly sign: number;
  readonly byVoltage: boolean;
  rowsAfter: number;
  /** The draw has been small since. */
  wasIdle: boolean;
  /** The logger lost its supply within it, or right before or after it. */
  isLost: boolean;
}

export interface DeepEvents {
  /** What a row begins, `isLost` where the supply was lost right before it. */
  begin(row: Row, isLost: boolean): DeepEvent;
  /** The event after one more row, which may be another one; null where it is over. */
  goOn(event: DeepEvent, row: Row, lostT: number): DeepEvent | null;
}

/** `onOver`: an event is over, in the phase that it had; one that begins anew from another level never was one. */
export function createDeepEvents(dips: Dips, usual: UsualLevels, onOver: (event: DeepEvent) => void): DeepEvents {
  function begin([t, v, i]: Row, isLost: boolean, byVoltage = dips.isUnseen(v, i, usual)): DeepEvent {
    return {
      phase: 'deep',
      rows: usual.since(t - BEFORE_S),
      beganAt: t,
      endedAt: t,
      before: usual.reference,
      level: Number.isNaN(i) || byVoltage ? usual.reference - v : Math.abs(i),
      most: 0,
      sign: Math.sign(i) || 0,
      byVoltage,
      rowsAfter: 0,
      wasIdle: false,
      isLost,
    };
  }

  function beginAnew(row: Row, lostT: number, byVoltage?: boolean): DeepEvent {
    const event = begin(row, row[0] - lostT < SETTLED_S, byVoltage);
    event.rows.push(row);
    return event;
  }

  function goOnLong(event: DeepEvent, [t, v, i]: Row): DeepEvent | null {
    if (Math.abs(i) >= IDLE_A) event.endedAt = t;
    if (dips.begins(v, i, usual) || Math.abs(i) >= DEEP_A) return event;
    onOver(event);
    return null;
  }

  function goOnDeep(event: DeepEvent, row: Row, lostT: number): DeepEvent {
    const [t, v, i] = row;
    followLevel(event, row, t - usual.lastT);
    if (dips.goesOn(v, i, event, usual)) {
      event.endedAt = t;
      event.wasIdle = false;
    } else {
      event.wasIdle ||= !dips.begins(v, i, usual);
      if (t - event.endedAt >= QUIET_S) event.phase = 'after';
    }
    if (t - event.beganAt > LONGEST_S) event.phase = 'too-long';
    if (!(t - event.beganAt > SETTLED_S)) return event;
    const goesRound =
      !event.byVoltage && Math.abs(i) < OWN_DRAW * event.most && dips.isUnexplained(v, i, usual.recent, usual);
    if (!goesRound && !(Number.isNaN(i) && dips.isFromNewLevel(v, usual))) return event;
    usual.startFromRecent();
    return beginAnew(row, lostT, goesRound);
  }

  function goOnAfter(event: DeepEvent, row: Row, lostT: number): DeepEvent | null {
    const [t, v, i] = row;
    event.rowsAfter++;
    const begins = dips.begins(v, i, usual);
    // What draws on from the starter's end (glow plugs, fans, heaters, until the generator takes over) begins nothing.
    event.wasIdle ||= !begins;
    const again = begins && event.wasIdle && t - event.endedAt > QUIET_S;
    if (!again && !(t - event.endedAt >= AFTER_S && event.rowsAfter >= AFTER_ROWS)) return event;
    onOver(event);
    return again ? beginAnew(row, lostT) : null;
  }

  return {
    begin: (row, isLost) => begin(row, isLost),
    goOn(event, row, lostT) {
      if (event.phase === 'too-long') return goOnLong(event, row);
      event.rows.push(row);
      return event.phase === 'deep' ? goOnDeep(event, row, lostT) : goOnAfter(event, row, lostT);
    },
  };
}

/** `sinceS`: since the row before, s. */
function followLevel(event: DeepEvent, [t, v, i]: Row, sinceS: number): void {
  if (!(sinceS > 0)) return;
  const size = Number.isNaN(i) || event.byVoltage ? event.before - v : i * event.sign;
  if (!Number.isNaN(size)) event.level += (size - event.level) * Math.min(1, sinceS / LEVEL_S);
  if (t - event.beganAt > INRUSH_OVER_S) event.most = Math.max(event.level, event.most * Math.exp(-sinceS / FADES_S));
}
