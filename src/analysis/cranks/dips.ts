/**
 * What begins a crank and what goes on with it, told from a row's voltage and current. The figures are common practice, no
 * source, for a 12 V system; voltages scale with the system.
 */
import { perTwelveVolt } from '../../battery/chemistry.ts';
import { fedFromV } from '../../battery/fed-voltage.ts';
import type { Session } from '../../manifest/session.ts';

/** Draw that only a starter motor and other heavy loads (told apart later) reach, A. */
export const DEEP_A = 50;
/** Least draw while the starter turns; below it the attempt is over, A. */
export const IDLE_A = 40;
/** Dip that begins to be of interest: with current known, and without, V. */
const DIP_V = 0.12;
const DIP_ALONE_V = 0.22;
/** A dip to here that no current explains: a starter whose current goes round the sensor, V. */
const LOW_V = 12.5;
/** From a level at which it was charged: also what ends the charging leaves less than that, V. */
const LOW_FED_V = 12;
const UNSEEN_DIP_V = 0.4;
/** Of it, where a row wants a closer look: what it falls from follows within seconds. */
const NEARLY = 0.75;
/** A worn battery gives way by this much to a draw that is seen, Ω for 12 V. */
const WORN_OHM = 0.02;
/** Of the level that the draw has, and of the highest that it had: less is no starter's any more. */
const OF_LEVEL = 0.45;
const OF_MOST = 0.35;
/** A level kept at or above this is none of a starter's, V. */
const NO_STARTER_V = 11.6;
/** Of the range: a reading this near to its end may have gone beyond it. */
const NEAR_END = 0.98;

/** Levels that the voltage had, V, and whether the log has current. */
export interface Usual {
  /** Before all this. */
  readonly reference: number;
  /** In the last half second. */
  readonly recent: number;
  readonly hasCurrent: boolean;
  /** Least that was drawn in the moment before, A: no part of what makes the voltage fall now. */
  leastBeforeA(): number;
}

/** What a crank under way goes on from. */
export interface Held {
  /** Voltage before it, V. */
  readonly before: number;
  /** Its level and the highest of it, fading within seconds: A, or V below `before` where it is told by voltage alone. */
  readonly level: number;
  readonly most: number;
  /** Sign that the log gives a draw: a charge that follows is none. */
  readonly sign: number;
  /** Told by voltage alone, though current is known. */
  readonly byVoltage: boolean;
}

export interface Dips {
  /** Above this voltage and below this current, as far as the sensor shows it, a row begins nothing. */
  idleFromV(reference: number): number;
  readonly deepA: number;
  /** The current, or NaN where the sensor's range ends below a starter's draw: then the dip stands alone. */
  known(i: number): number;
  isUnseen(v: number, i: number, usual: Usual): boolean;
  /** A fall from a level that what is drawn more than a moment ago does not explain. */
  isUnexplained(v: number, i: number, from: number, usual: Usual): boolean;
  begins(v: number, i: number, usual: Usual): boolean;
  goesOn(v: number, i: number, held: Held, usual: Usual): boolean;
  /** Without current a fall to a lower level (the engine stops) looks like a dip until a real one begins from there. */
  isFromNewLevel(v: number, usual: Usual): boolean;
}

export function dipsOf({ vehicle, battery, log }: Pick<Session, 'vehicle' | 'battery' | 'log'>): Dips {
  const scale = perTwelveVolt(vehicle.systemV);
  const lowV = LOW_V * scale;
  const fedV = fedFromV(battery.chemistry, vehicle.systemV);
  const mostA = NEAR_END * (log.columns.current?.rangeA ?? Number.POSITIVE_INFINITY);
  const isUnexplained = (v: number, i: number, from: number, usual: Usual) =>
    v < (from > fedV ? LOW_FED_V * scale : lowV) &&
    v <= from - UNSEEN_DIP_V * scale &&
    v <= from - (UNSEEN_DIP_V + WORN_OHM * Math.max(0, Math.abs(i) - usual.leastBeforeA())) * scale;
  const isUnseen = (v: number, i: number, usual: Usual) =>
    Math.abs(i) < DEEP_A && isUnexplained(v, i, usual.reference, usual);
  return {
    idleFromV: (reference) => (reference > 0 ? Math.min(lowV, reference - NEARLY * UNSEEN_DIP_V * scale) : lowV),
    deepA: Math.min(DEEP_A, mostA),
    known: (i) => (mostA < DEEP_A && Math.abs(i) >= mostA ? Number.NaN : i),
    isUnseen,
    isUnexplained,
    begins: (v, i, usual) =>
      usual.hasCurrent && !Number.isNaN(i)
        ? (Math.abs(i) >= DEEP_A && !(v > usual.reference - DIP_V * scale)) || isUnseen(v, i, usual)
        : v <= usual.reference - DIP_ALONE_V * scale,
    goesOn: (v, i, { before, level, most, sign, byVoltage }, { hasCurrent }) =>
      hasCurrent && !Number.isNaN(i) && !byVoltage
        ? i * sign >= Math.max(IDLE_A, OF_LEVEL * level, OF_MOST * most)
        : before - v >= Math.max(DIP_ALONE_V * scale, OF_LEVEL * level),
    isFromNewLevel: (v, { recent }) => recent > NO_STARTER_V * scale && v <= recent - 2 * DIP_ALONE_V * scale,
  };
}
