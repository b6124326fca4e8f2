/**
 * The model: everything that is worked out from the samples, once. Measures are made of it; checks and charts read both.
 * Times: s since the epoch (UTC). Current: positive into the battery; a draw: positive out of it.
 */
import type { Uncertainty } from '../battery/uncertainty.ts';
import type { LogAccount } from '../log/block.ts';
import type { Tiles } from './tiles/tiles.ts';

export type PeriodKind =
  | 'cranking'
  | 'driving'
  | 'key-on'
  | 'settling'
  | 'asleep'
  | 'awake'
  | 'on-charger'
  | 'disconnected'
  | 'no-data'
  | 'unknown';

/** From one moment to another. */
export interface Span {
  readonly start: number;
  readonly end: number;
}

export interface Period extends Span {
  readonly kind: PeriodKind;
  /** Short words of what tells the kind. */
  readonly evidence: readonly string[];
  /** How sure the kind is, 0 to 1. */
  readonly certainty: number;
  readonly chargeInAh: number;
  readonly chargeOutAh: number;
}

export interface VehicleEvent {
  readonly kind: 'failed-start' | 'long-start' | 'heavy-load';
  readonly start: number;
  readonly seconds: number;
  /** Mean draw, A; null without current. */
  readonly meanA: number | null;
  readonly voltsMin: number;
}

/** A measured value with its standard uncertainty (k = 1) in the same unit. */
export interface Measured {
  readonly value: number;
  readonly u: number;
  /** Coverage factor for about 95 %, where bounds that are known make up most of it; 2 where left out. */
  readonly k?: number;
}

/** Pulses that are a part of sleep: how many were seen, and what they draw above what flows between them, A·s. */
export interface Pulses {
  readonly seen: number;
  readonly chargeAs: number;
}

/** A parked period: from one key-off to the next key-on. */
export interface Stand extends Span {
  /** False where the log begins within this stand. */
  readonly keyOffInLog: boolean;
  /** False where the log ends within this stand. */
  readonly keyOnInLog: boolean;
  /** s from key-off until first asleep; null where it never slept, or key-off is not in the log. */
  readonly timeToSleepS: number | null;
  /** Time for which it was seen asleep, awake (wakes) and settling, s. */
  readonly asleepS: number;
  readonly awakeS: number;
  readonly settlingS: number;
  /** Time-weighted mean draw while asleep, with the standard uncertainty of that mean; null where it never slept. */
  readonly sleepDrawA: Measured | null;
  /**
   * How far the draw asleep may be off without being seen, where one number is read over and over, A; 0 where readings
   * differ. It is in the uncertainty.
   */
  readonly unseenA: number;
  readonly pulses: Pulses;
  /** Mean draw over the whole stand, without what does not count. */
  readonly meanDrawA: Measured | null;
  readonly chargeOutAh: number;
  readonly chargeOutU: Uncertainty;
  readonly chargeInAh: number;
  readonly wakes: number;
  /** Seconds with usable data; the rest was on a charger, disconnected or without data. */
  readonly countedS: number;
  /** Voltage at the end of the longest undisturbed rest, not corrected for draw; null where there was none of 1 h or more. */
  readonly rest: Rest | null;
}

export interface Rest {
  readonly at: number;
  readonly volts: Measured;
  /** s since the battery was last charged (driving or on a charger); lower bound where the log begins within the rest. */
  readonly sinceChargeS: number;
  readonly sinceChargeInLog: boolean;
  /** Mean draw in the last stretch before `at`, A; null without current. */
  readonly drawA: number | null;
  readonly temperatureC: number | null;
}

export interface Wake {
  readonly start: number;
  readonly seconds: number;
  /** Above the sleeping level, A. */
  readonly peakA: number;
  readonly meanA: number;
  readonly chargeAh: number;
  /** Index into `stands`. */
  readonly stand: number;
  /** Labels of the channels that were active in it. */
  readonly channels: readonly string[];
}

export interface Crank {
  readonly at: number;
  readonly seconds: number;
  readonly voltsBefore: number;
  readonly voltsMin: number;
  /** Mean after the first 0.3 s; null where fewer than three samples lie there. */
  readonly voltsCranking: Measured | null;
  readonly ampsPeak: number | null;
  readonly resistanceOhm: Measured | null;
  readonly temperatureC: number | null;
  /** True when the engine ran afterwards. */
  readonly started: boolean;
  /** Full-rate window from 1 s before to 3 s after the crank; empty for cranks past the first 400. */
  readonly wave: { readonly t: Float64Array; readonly v: Float64Array; readonly i: Float64Array };
}

export interface Drive extends Span {
  readonly voltsMedian: number;
  readonly chargeInAh: number;
  readonly chargeOutAh: number;
  /** Voltage that 95 % (5 %) of the driving time, after the first 2 min, lies below; null where the drive is shorter. */
  readonly voltsHigh: Measured | null;
  readonly voltsLow: Measured | null;
  readonly temperatureC: number | null;
  /** Mean current over the drive, A, positive into the battery; null without current. */
  readonly meanA: number | null;
}

export interface Totals {
  readonly chargeInAh: number;
  readonly chargeOutAh: number;
  readonly chargeInU: Uncertainty;
  readonly chargeOutU: Uncertainty;
  readonly drivingS: number;
  readonly parkedS: number;
  readonly asleepS: number;
  readonly awakeS: number;
  readonly settlingS: number;
  readonly chargerS: number;
  readonly chargerInAh: number;
  readonly disconnectedS: number;
}

/** Evidence for the sign of current; in everything of this Analysis it has been put right. */
export interface Direction {
  /** It was the other way round throughout. */
  readonly flipped: boolean;
  /** The sensor was turned round in mid-log: when it was the other way round. */
  readonly turned: Span | null;
  /** Independent signs that speak for the manifest's statement, and against it. */
  readonly agree: number;
  readonly against: number;
  readonly evidence: readonly {
    readonly what: 'crank' | 'driving' | 'step' | 'asleep';
    readonly agree: number;
    readonly against: number;
  }[];
}

export interface Analysis {
  readonly log: LogAccount;
  readonly start: number;
  readonly end: number;
  readonly coveredS: number;
  readonly missingS: number;
  /** Median step between rows, s. */
  readonly medianStepS: number;
  /** Steps that hold most of the time of the log, s: more than one where the logger changes its rate. */
  readonly stepsS: { readonly driving: number | null; readonly parked: number | null; readonly awake: number | null };
  readonly has: { readonly current: boolean; readonly temperature: boolean; readonly channels: readonly boolean[] };
  /** Smallest step between different values seen in the log, in the column's SI unit; 0 where unknown. */
  readonly resolution: { readonly v: number; readonly i: number; readonly temp: number };
  /** Standard deviation of single current readings while quiet, A; null without current. */
  readonly noiseA: number | null;
  readonly temperature: { readonly min: number; readonly max: number; readonly mean: number } | null;
  readonly tiles: Tiles;
  readonly periods: readonly Period[];
  readonly stands: readonly Stand[];
  /** When a hybrid's or electric vehicle's converter charged the battery while parked, in order. */
  readonly topUps: readonly Span[];
  readonly wakes: readonly Wake[];
  readonly cranks: readonly Crank[];
  /** Starts that failed or took long, and heavy loads with the engine off, in order. */
  readonly events: readonly VehicleEvent[];
  readonly drives: readonly Drive[];
  readonly totals: Totals;
  readonly direction: Direction;
}
