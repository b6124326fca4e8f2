/**
 * What a count of chance events says: exact bounds, without the normal approximation, since the counts here are small.
 * Poisson for events in a time (Garwood 1936), hypergeometric for two marks on the same things (Fisher 1935).
 */
import type { Range } from './chemistry.ts';

/** Probability of at most `count` events where `expected` are expected (Poisson). */
export function poissonAtMost(count: number, expected: number): number {
  if (count < 0) return 0;
  if (expected <= 0) return 1;
  let logTerm = -expected;
  let sum = Math.exp(logTerm);
  for (let i = 1; i <= count; i++) {
    logTerm += Math.log(expected / i);
    sum += Math.exp(logTerm);
  }
  return Math.min(1, sum);
}

/**
 * Probability that two marks, put on `marked` and on `others` of `all` things with no regard to each other, meet on at least
 * `both` of them (Fisher's exact test, one side).
 */
export function meetAtLeast(both: number, marked: number, others: number, all: number): number {
  const logWays = (n: number, k: number) => logFactorial(n) - logFactorial(k) - logFactorial(n - k);
  const most = Math.min(marked, others);
  let sum = 0;
  for (let n = Math.max(both, marked + others - all); n <= most; n++)
    sum += Math.exp(logWays(marked, n) + logWays(all - marked, others - n) - logWays(all, others));
  return Math.min(1, sum);
}

function logFactorial(n: number): number {
  let log = 0;
  for (let k = 2; k <= n; k++) log += Math.log(k);
  return log;
}

/** Exact two-sided bounds of the expected number of events, where `count` were seen. */
export function poissonBounds(count: number, confidence = 0.95): Range {
  const tail = (1 - confidence) / 2;
  return {
    low:
      count === 0 ? 0 : whereFalling((expected) => poissonAtMost(count - 1, expected), 1 - tail, poissonCeiling(count)),
    high: whereFalling((expected) => poissonAtMost(count, expected), tail, poissonCeiling(count)),
  };
}

/**
 * Events that must be expected for at least `times` to be seen with a given confidence: multiply by the mean time
 * between events for how long to watch. For one event this is −ln(1 − confidence), 3.0 at 95 %.
 *
 * @param times 1 or more
 * @param confidence below 1: no watch is long enough for certainty
 */
export function expectedToSee(times: number, confidence: number): number {
  return whereFalling((expected) => poissonAtMost(times - 1, expected), 1 - confidence, poissonCeiling(times));
}

/** Far beyond any bound asked for: the count and 40 standard deviations more. */
function poissonCeiling(count: number): number {
  return count + 40 * Math.sqrt(count + 1) + 40;
}

/** Where a falling function of 0 … `ceiling` passes `level`, by halving to the last bit. */
function whereFalling(probability: (x: number) => number, level: number, ceiling: number): number {
  let low = 0;
  let high = ceiling;
  for (;;) {
    const middle = (low + high) / 2;
    if (!(middle > low && middle < high)) return middle;
    if (probability(middle) > level) low = middle;
    else high = middle;
  }
}
