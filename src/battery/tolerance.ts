/**
 * What range holds a share of all vehicles of a model, where n of them were seen: statistical tolerance intervals, as ISO 16269-6
 * lays down. Of a normal population by Howe's factor (Howe 1969; NIST/SEMATECH e-Handbook of Statistical Methods, 7.2.6.3);
 * without any assumption of its shape by the least and the most (Wilks 1941), which takes far more vehicles.
 */
import { mean, standardDeviation } from './statistics.ts';
import { chiSquareBelow, normalBelow, studentBeyond, whereRising } from './tail-areas.ts';

/** Share of the population that the interval holds, and how sure that is. */
export const SHARE = 0.95;
export const CONFIDENCE = 0.95;
/** Below this many the normal factor is so large that the interval says nothing. Common practice, no source. */
export const LEAST_NORMAL = 5;

/** Howe's factor for a two-sided interval mean ± k · s of a normal population; n from 2 on. */
export function toleranceFactor(n: number, share = SHARE, confidence = CONFIDENCE): number {
  const degrees = n - 1;
  const z = whereRising(normalBelow, (1 + share) / 2, 0, 40);
  const most = degrees + 40 * Math.sqrt(2 * degrees) + 40;
  const chi = whereRising((x) => chiSquareBelow(x, degrees), 1 - confidence, 0, most);
  return z * Math.sqrt((degrees * (1 + 1 / n)) / chi);
}

/**
 * How sure it is that the least and the most of n values hold a share of any continuous population between them:
 * 1 − n·p^(n−1) + (n−1)·p^n (Wilks 1941).
 */
export function leastToMostConfidence(n: number, share = SHARE): number {
  return 1 - n * share ** (n - 1) + (n - 1) * share ** n;
}

/** Probability that one more value of the normal population of `values` lies as far from their mean as `value`, or farther. */
export function chanceOf(value: number, values: readonly number[], leastSd = 0): number {
  const n = values.length;
  const sd = Math.max(standardDeviation(values), leastSd);
  if (!(sd > 0)) return value === values[0] ? 1 : 0;
  return studentBeyond(Math.abs(value - mean(values)) / (sd * Math.sqrt(1 + 1 / n)), n - 1);
}

export interface NormalRange {
  /** `normal`: Howe; `distribution-free`: Wilks; `seen`: too few for either, the least and the most that were seen. */
  readonly method: 'normal' | 'distribution-free' | 'seen';
  readonly n: number;
  readonly low: number;
  readonly high: number;
}

/**
 * The range of a model from one value of each vehicle.
 *
 * @param leastSd what vehicles differ by at least, so that a few that happen to agree accuse nobody
 * @param byFactors true for quantities of which vehicles differ by factors (draws, lengths): their logarithms are taken
 */
export function normalRange(values: readonly number[], leastSd: number, byFactors: boolean): NormalRange {
  const n = values.length;
  const seen = { n, low: Math.min(...values), high: Math.max(...values) };
  if (leastToMostConfidence(n) >= CONFIDENCE) return { method: 'distribution-free', ...seen };
  if (n < LEAST_NORMAL) return { method: 'seen', ...seen };
  const logs = byFactors ? values.map(Math.log) : values;
  const middle = mean(logs);
  const reach = toleranceFactor(n) * Math.max(standardDeviation(logs), leastSd);
  const back = (x: number) => (byFactors ? Math.exp(x) : x);
  return { method: 'normal', n, low: back(middle - reach), high: back(middle + reach) };
}
