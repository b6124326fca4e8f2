/**
 * What truly happened in a simulated log, in the words of the contract and free of the sensor's faults. Times in s since
 * the epoch. A quiet of less than a minute between two awake stretches does not count as sleep. Charge that fell into
 * gaps of the log is left out, since no analysis can know it.
 */
import type { PeriodKind } from '../analysis/model.ts';
import type { Status } from '../checks/check.ts';
import type { DriveLevels, Extremes, StandLevels } from './levels.ts';

export interface TruePeriod {
  readonly kind: PeriodKind;
  readonly start: number;
  readonly end: number;
  readonly chargeInAh: number;
  readonly chargeOutAh: number;
}

export interface TrueParked extends StandLevels {
  readonly start: number;
  readonly end: number;
  readonly keyOffInLog: boolean;
  readonly keyOnInLog: boolean;
  /** From key-off to the first sleep; null where key-off is not in the log or it never slept. */
  readonly timeToSleepS: number | null;
  readonly asleepS: number;
  readonly sleepDrawA: number | null;
  /** Mean temperature of the battery while asleep. */
  readonly asleepC: number | null;
  /** Without time on a charger, disconnected, topped up by a converter or missing from the log. */
  readonly meanDrawA: number | null;
  readonly chargeOutAh: number;
  /** Mean voltage of the last ten minutes of its last sleep; null where it never slept. */
  readonly restedV: number | null;
  readonly wakes: number;
}

export interface TrueWake {
  readonly start: number;
  readonly seconds: number;
  /** Above the sleeping level. */
  readonly peakA: number;
  readonly meanA: number;
  readonly chargeAh: number;
  /** Labels of the channels tied to the sources that were awake in it. */
  readonly channels: readonly string[];
}

export interface TrueCrank {
  readonly at: number;
  readonly seconds: number;
  readonly voltsBefore: number;
  /** Draw just before, A. */
  readonly ampsBefore: number;
  readonly voltsMin: number;
  /** Mean after the first 0.3 s; null for cranks shorter than that. */
  readonly voltsCranking: number | null;
  /** Mean draw after the first 0.3 s; null likewise. */
  readonly ampsCranking: number | null;
  readonly temperatureC: number;
  readonly ampsPeak: number;
  /** Ohmic part alone; a measurement over tenths of a second sees some of the fast polarisation too. */
  readonly resistanceOhm: number;
  /** Ohmic part and fast polarisation: the upper end of what a fair measurement may show. */
  readonly resistanceHighOhm: number;
  readonly started: boolean;
}

export interface TrueDrive extends DriveLevels {
  readonly start: number;
  readonly end: number;
  readonly chargeInAh: number;
  readonly chargeOutAh: number;
}

export interface Truth {
  readonly periods: readonly TruePeriod[];
  readonly parked: readonly TrueParked[];
  readonly wakes: readonly TrueWake[];
  readonly cranks: readonly TrueCrank[];
  readonly drives: readonly TrueDrive[];
  /** Parked charging by a DC–DC converter; its time stands as `awake` in `periods`. */
  readonly topUps: readonly { readonly start: number; readonly end: number }[];
  /** Without time on a charger, disconnected or missing from the log. */
  readonly totals: { readonly chargeInAh: number; readonly chargeOutAh: number };
  /** State of charge, 0 to 1, at the start and end. */
  readonly charge: { readonly start: number; readonly end: number };
  readonly extremes: Extremes;
  /** Answers that a sound report may give, for the checks where the case is clear-cut. */
  readonly expected: Readonly<Record<string, readonly Status[]>>;
}
