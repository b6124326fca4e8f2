/**
 * Finds cranks at full rate while the samples stream by. A crank is a short, deep draw with a dip of voltage, from an
 * engine that is not running; what it did next tells a start from a failed attempt. Without current the dip alone
 * must be deeper. What begins one and what goes on with it says `dips.ts`; here is what follows what.
 */
import { perTwelveVolt } from '../../battery/chemistry.ts';
import { fedFromV } from '../../battery/fed-voltage.ts';
import type { SampleBlock } from '../../log/block.ts';
import type { Session } from '../../manifest/session.ts';
import { isSupplyLost } from '../states/supply.ts';
import { type HeavyLoad, measureCrank, measureLoad, type RawCrank, type Row } from './crank-measure.ts';
import { DEEP_A, dipsOf, IDLE_A } from './dips.ts';
import { createRowRing } from './row-ring.ts';

/** The starter is off once its draw has been gone this long, s: longer than a compression stroke takes at crank speed. */
const QUIET_S = 0.25;
/** Rows kept before (s) and after (s) the event. */
const BEFORE_S = 4;
const AFTER_S = 4;
/** Longer than this is some other load (a heater, an inverter), s. */
const LONGEST_S = 60;
/** A level kept this long is one; a supply lost this near to an event belongs to it, s. */
const SETTLED_S = 1;
/** The level of a draw follows within this time, so that the inrush is forgotten by the time the plateau counts; its highest fades, s. */
const LEVEL_S = 0.2;
const FADES_S = 3;
/** The inrush, up to four times what follows, is over and forgotten after this, s. */
const INRUSH_OVER_S = 0.6;
/** What was drawn so long before is no part of what makes the voltage fall now, s. */
const MOMENT_S = 1.5;
/** Time constants of the levels of voltage: before an event, after one, and of the last half second, s. */
const USUAL_S = 1.5;
const AFTER_EVENT_S = 0.5;
const RECENT_S = 0.4;
/** Cranks whose waveform is kept. */
const WAVES = 400;

export interface CrankFinder {
  push(block: SampleBlock): void;
  /** Starts, and what else drew much, in order; whether an engine ran meanwhile is not known yet. */
  finish(): { cranks: RawCrank[]; loads: HeavyLoad[] };
}

/** Something deep under way: the draw or dip itself, what comes after it, or what lasts too long for a starter. */
interface Event {
  phase: 'deep' | 'after' | 'too-long';
  readonly rows: Row[];
  readonly beganAt: number;
  endedAt: number;
  readonly before: number;
  level: number;
  most: number;
  readonly sign: number;
  readonly byVoltage: boolean;
  rowsAfter: number;
  /** The logger lost its supply within it, or right before or after it. */
  isLost: boolean;
}

export function createCrankFinder(session: Pick<Session, 'vehicle' | 'battery' | 'log'>): CrankFinder {
  const { systemV, powertrain } = session.vehicle;
  const cranks: RawCrank[] = [];
  const loads: HeavyLoad[] = [];
  if (powertrain === 'electric') return { push: () => {}, finish: () => ({ cranks, loads }) };

  const dips = dipsOf(session);
  const rules = {
    scale: perTwelveVolt(systemV),
    chargedV: fedFromV(session.battery.chemistry, systemV),
    strict: powertrain === 'hybrid',
  };
  const ring = createRowRing();
  const usual = {
    reference: Number.NaN,
    recent: Number.NaN,
    hasCurrent: false,
    leastBeforeA: () => ring.leastA(MOMENT_S),
  };
  let event: Event | null = null;
  /** Of the last row, of the last with a voltage, and when the logger last lost its supply. */
  let [lastT, knownT, lostT] = [Number.NaN, Number.NaN, Number.NaN];

  function begin(t: number, v: number, i: number, byVoltage = dips.isUnseen(v, i, usual)): Event {
    return {
      phase: 'deep',
      rows: ring.since(t - BEFORE_S),
      beganAt: t,
      endedAt: t,
      before: usual.reference,
      level: Number.isNaN(i) || byVoltage ? usual.reference - v : Math.abs(i),
      most: 0,
      sign: Math.sign(i) || 0,
      byVoltage,
      rowsAfter: 0,
      isLost: t - lostT < SETTLED_S,
    };
  }

  /** A crank, or another load, or nothing. */
  function evaluate({ isLost, rows, beganAt, endedAt, byVoltage }: Event): void {
    if (isLost) return;
    const crank = measureCrank(rows, beganAt, endedAt, { ...rules, byVoltage, wave: cranks.length < WAVES });
    if (crank) cranks.push(crank);
    else noteLoad(rows, beganAt, endedAt);
  }

  function noteLoad(rows: readonly Row[], beganAt: number, endedAt: number): void {
    const load = measureLoad(rows, beganAt, endedAt);
    if (load && load.meanA >= DEEP_A) loads.push(load);
  }

  /** The event after one more row; null where it is over. */
  function goOn(now: Event, row: Row, sinceS: number): Event | null {
    const [t, v, i] = row;
    if (now.phase === 'too-long') {
      if (Math.abs(i) >= IDLE_A) now.endedAt = t;
      if (dips.begins(v, i, usual) || Math.abs(i) >= DEEP_A) return now;
      if (!now.isLost) noteLoad(now.rows, now.beganAt, now.endedAt);
      return null;
    }
    now.rows.push(row);
    return now.phase === 'deep' ? goOnDeep(now, row, sinceS) : goOnAfter(now, row);
  }

  function goOnDeep(now: Event, row: Row, sinceS: number): Event {
    const [t, v, i] = row;
    const size = Number.isNaN(i) || now.byVoltage ? now.before - v : i * now.sign;
    if (sinceS > 0) {
      if (!Number.isNaN(size)) now.level += (size - now.level) * Math.min(1, sinceS / LEVEL_S);
      if (t - now.beganAt > INRUSH_OVER_S) now.most = Math.max(now.level, now.most * Math.exp(-sinceS / FADES_S));
    }
    if (dips.goesOn(v, i, now, usual)) now.endedAt = t;
    else if (t - now.endedAt >= QUIET_S) now.phase = 'after';
    if (t - now.beganAt > LONGEST_S) now.phase = 'too-long';
    if (!(t - now.beganAt > SETTLED_S)) return now;
    const goesRound = !now.byVoltage && Math.abs(i) < 2 * now.most && dips.isUnexplained(v, i, usual.recent, usual);
    if (!goesRound && !(Number.isNaN(i) && dips.isFromNewLevel(v, usual))) return now;
    usual.reference = usual.recent;
    return anew(row, goesRound);
  }

  function goOnAfter(now: Event, row: Row): Event | null {
    const [t, v, i] = row;
    now.rowsAfter++;
    const again = dips.begins(v, i, usual) && t - now.endedAt > QUIET_S;
    if (!again && !(t - now.endedAt >= AFTER_S && now.rowsAfter >= 2)) return now;
    evaluate(now);
    return again ? anew(row) : null;
  }

  function anew(row: Row, byVoltage?: boolean): Event {
    const [t, v, i] = row;
    const next = begin(t, v, i, byVoltage);
    next.rows.push(row);
    return next;
  }

  /** Takes the rows from `from` on that draw little, as nearly all do; gives the first that wants a closer look. */
  function passIdle(block: SampleBlock, from: number): number {
    const { n, t, v, i } = block;
    const { deepA } = dips;
    const idleV = dips.idleFromV(usual.reference);
    let k = from;
    while (k < n && Math.abs(i[k]) < deepA && v[k] > idleV) k++;
    if (k === from) return k;
    // In variables of their own, which is much quicker than in those that outlive the call.
    let [slow, quick, since] = [usual.reference, usual.recent, knownT];
    for (let row = from; row < k; row++) {
      slow = follow(slow, v[row], t[row] - since, USUAL_S);
      quick = follow(quick, v[row], t[row] - since, RECENT_S);
      since = t[row];
    }
    [usual.reference, usual.recent, usual.hasCurrent] = [slow, quick, true];
    [knownT, lastT] = [since, since];
    ring.keep(block, from, k);
    return k;
  }

  /** A row at a time: where something is under way, or may begin. */
  function take(t: number, read: number, i: number, temp: number): void {
    // A logger that loses its own supply dips deeper than any starter.
    const lost = Number.isNaN(i) && isSupplyLost(read, systemV);
    const v = lost ? Number.NaN : read;
    if (lost) {
      lostT = t;
      if (event && t - event.endedAt < SETTLED_S) event.isLost = true;
    }
    if (!Number.isNaN(i)) usual.hasCurrent = true;
    if (!event && dips.begins(v, i, usual)) event = begin(t, v, i);
    if (event) event = goOn(event, [t, v, i, temp], t - lastT);
    if (!Number.isNaN(v)) {
      const tauS = event?.phase === 'after' ? AFTER_EVENT_S : USUAL_S;
      if (event?.phase !== 'deep') usual.reference = follow(usual.reference, v, t - knownT, tauS);
      usual.recent = follow(usual.recent, v, t - knownT, RECENT_S);
      knownT = t;
    }
    ring.add(t, v, i, temp);
    lastT = t;
  }

  return {
    push(block) {
      for (let k = 0; k < block.n; k++) {
        if (!event) k = passIdle(block, k);
        if (k < block.n) take(block.t[k], block.v[k], dips.known(block.i[k]), block.temp[k]);
      }
    },
    finish() {
      if (event && event.phase !== 'too-long') evaluate(event);
      return { cranks, loads };
    },
  };
}

/** A level that follows `v` with a time constant, s, and starts anew after a silence. */
function follow(level: number, v: number, sinceS: number, tauS: number): number {
  return sinceS < 2 ? level + (v - level) * Math.min(1, sinceS / tauS) : v;
}
