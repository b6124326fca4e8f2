/**
 * Uncertainty as JCGM 100 (the GUM) lays down: standard uncertainties combine by root sum of squares, and an expanded
 * uncertainty (k = 2, about 95 %) is what a limit is judged by, as in JCGM 106.
 */

/** Half-width of what a maker states: `relative` × |reading| + `absolute` (in the reading's unit). */
export interface Accuracy {
  readonly relative: number;
  readonly absolute: number;
}

/** Standard uncertainty of a value known only to lie within ± `halfWidth`. Source: JCGM 100, 4.3.7 (from memory). */
export function rectangular(halfWidth: number): number {
  return Math.abs(halfWidth) / Math.sqrt(3);
}

/** Combined standard uncertainty of independent contributions in the same unit. Source: JCGM 100, 5.1.2 (from memory). */
export function combine(...us: readonly number[]): number {
  return Math.hypot(...us);
}

/** Standard uncertainty of one reading from the maker's stated accuracy. The two parts add up before they are spread. */
export function accuracyU(accuracy: Accuracy, reading: number): number {
  return rectangular(accuracy.relative * Math.abs(reading) + accuracy.absolute);
}

/** Standard uncertainty of a reading rounded to steps of `step`. Source: JCGM 100, F.2.2.1 (from memory). */
export function resolutionU(step: number): number {
  return rectangular(step / 2);
}

/** Expanded uncertainty; k = 2 covers about 95 %. */
export function expand(u: number, k = 2): number {
  return k * u;
}

export type Decision = 'within' | 'beyond' | 'undecided';

/**
 * Judges a value against a limit with a guard band of its expanded uncertainty on both sides: a limit that lies within
 * value ± U gives no verdict. Anything that is not a number gives `undecided`. Source: JCGM 106, guarded acceptance and
 * rejection (from memory).
 *
 * @param side `max`: the limit must not be exceeded; `min`: it must be reached
 */
export function decide(asked: {
  readonly value: number;
  /** Expanded uncertainty, same unit as the value. */
  readonly U: number;
  readonly limit: number;
  readonly side: 'max' | 'min';
}): Decision {
  const margin = asked.side === 'max' ? asked.limit - asked.value : asked.value - asked.limit;
  if (margin > asked.U) return 'within';
  if (margin < -asked.U) return 'beyond';
  return 'undecided';
}

/**
 * Standard uncertainty, Ah, of a charge counted as mean current × time. Offset and gain of the sensor are the same in
 * every reading: what they bring grows with time and no number of readings averages it out. Only the scatter shrinks
 * with √n.
 */
export function chargeU(counted: {
  /** Mean current over the time, A; for a balance the net mean, since one gain error acts on both directions. */
  readonly amperes: number;
  readonly seconds: number;
  readonly accuracy: Accuracy;
  /** Standard deviation of single readings, A. */
  readonly scatterA: number;
  /** Independent readings in the time. */
  readonly n: number;
}): number {
  const hours = counted.seconds / 3600;
  const offset = rectangular(counted.accuracy.absolute);
  const gain = rectangular(counted.accuracy.relative * counted.amperes);
  const scatter = counted.scatterA / Math.sqrt(Math.max(1, counted.n));
  return hours * combine(offset, gain, scatter);
}
