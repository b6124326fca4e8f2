/** What the rows of a crank show, and what of them is kept. */
import type { Lift } from './lift.ts';

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
  /** What it lifted the voltage to, in a log without current; undefined where it lifted nothing. */
  lift?: Lift;
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

export const known = (x: number): boolean => !Number.isNaN(x);
