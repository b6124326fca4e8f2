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
export const combine = (...us: readonly number[]): number => rootOfSquares(us);

/**
 * Root of the sum of squares. `Math.hypot` differs in its last digit from one browser to another; division, sums (Kahan's) and a root are
 * the same everywhere, and so are the reports.
 */
export function rootOfSquares(values: readonly number[]): number {
  const most = values.reduce((max, value) => Math.max(max, Math.abs(value)), 0);
  if (!(most > 0) || most === Number.POSITIVE_INFINITY) return most;
  let sum = 0;
  let lost = 0;
  for (const value of values) {
    const share = value / most;
    const part = share * share - lost;
    const next = sum + part;
    lost = next - sum - part;
    sum = next;
  }
  return Math.sqrt(sum) * most;
}

/** Half-widths of the two independent parts of a maker's stated accuracy, gain and offset, in the reading's unit. */
export function accuracyBounds(accuracy: Accuracy, reading: number): readonly [number, number] {
  return [accuracy.relative * Math.abs(reading), accuracy.absolute];
}

/** Standard uncertainty of one reading from the maker's stated accuracy: gain and offset are two faults of their own. */
export function accuracyU(accuracy: Accuracy, reading: number): number {
  return combine(...accuracyBounds(accuracy, reading).map(rectangular));
}

/** Standard uncertainty of a reading rounded to steps of `step`. Source: JCGM 100, F.2.2.1 (from memory). */
export function resolutionU(step: number): number {
  return rectangular(step / 2);
}

/** Expanded uncertainty; k = 2 covers about 95 %. */
export function expand(u: number, k = 2): number {
  return k * u;
}

/** Share that an expanded uncertainty is to cover: that of two standard uncertainties of normal scatter. */
const COVERED = 0.9545;

/**
 * Coverage factor for about 95 %. Where bounds that are known (an offset, a gain, a step of the display) make up most of an
 * uncertainty, two standard uncertainties would cover everything: the two widest make a trapezoid, for which EA-4/02 (European
 * co-operation for Accreditation), S10.13 and S10.14 (from memory), has the factor, from 1.65 for one bound to 1.93 for two alike. The
 * more of the rest there is, the nearer it comes to 2.
 *
 * @param halfWidths of the known bounds, same unit as `restU`
 * @param restU standard uncertainty of all that is no bound
 */
export function coverageFactor(halfWidths: readonly number[], restU: number): number {
  const [a = 0, b = 0, ...others] = halfWidths.map(Math.abs).sort((x, y) => y - x);
  if (!(a > 0)) return 2;
  const edge = (a - b) / (a + b);
  const spread = Math.sqrt((1 + edge * edge) / 6);
  const factor =
    edge > COVERED / (2 - COVERED)
      ? (COVERED * (1 + edge)) / 2 / spread
      : (1 - Math.sqrt((1 - COVERED) * (1 - edge * edge))) / spread;
  const share = combine(restU, ...others.map(rectangular)) / combine(rectangular(a), rectangular(b));
  return factor + (2 - factor) * Math.min(1, share);
}

/** What is known of a value: standard uncertainty in its unit, and the coverage factor for about 95 %. */
export interface Uncertainty {
  readonly u: number;
  readonly k: number;
}

/** From the half-widths of known bounds and the standard uncertainty of all that is no bound. */
export function uncertaintyOf(halfWidths: readonly number[], restU: number): Uncertainty {
  return { u: combine(...halfWidths.map(rectangular), restU), k: coverageFactor(halfWidths, restU) };
}

/** With independent scatter besides: the more of it, the nearer the factor comes to 2. */
export function widened({ u, k = 2 }: Pick<Uncertainty, 'u'> & { readonly k?: number }, restU: number): Uncertainty {
  return { u: combine(u, restU), k: u > 0 ? k + (2 - k) * Math.min(1, restU / u) : 2 };
}

/** Of a mean whose parts all err the same way, as by one offset: uncertainties add up and do not average out. */
export function together(
  parts: readonly { readonly u: number; readonly k?: number; readonly weight: number }[],
): Uncertainty {
  const mean = (of: (part: { readonly u: number; readonly k?: number }) => number) =>
    parts.reduce((sum, part) => sum + part.weight * of(part), 0) / parts.reduce((sum, part) => sum + part.weight, 0);
  const u = mean((part) => part.u);
  return { u, k: u > 0 ? mean((part) => expand(part.u, part.k)) / u : 2 };
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
