/**
 * Does a series of events keep a clock, or do they come at random? Intervals are weighed under both: a clock (the next event
 * one period later, sometimes one or more are missed, now and then anything) of every period and steadiness from a fixed
 * list, and chance (events that come singly or in bursts, whatever their rates). The mean over the list of how much likelier
 * the clock makes the intervals than the best that chance can do exceeds c by luck in fewer than one case of c (Markov's
 * inequality, as in Wasserman, Ramdas and Balakrishnan, "Universal inference", PNAS 2020, from memory), so 1/c is given as
 * the chance. No draw of lots is needed and the answer is always the same.
 */

export interface Clock {
  readonly periodS: number;
  /** How much single intervals vary, s (standard deviation). */
  readonly jitterS: number;
  /** Upper bound of the probability that events without a clock look so regular. */
  readonly chance: number;
  /** Share of the intervals that are one period or a few. */
  readonly share: number;
}

const SHORTEST_S = 120;
const LONGEST_S = 2 * 86_400;
/** Steadiness tried: standard deviation of an interval, in periods. */
const JITTERS = [0.005, 0.01, 0.02, 0.04, 0.08];
/** Chance of each further event in a row being missed, and of an interval that has nothing to do with the clock. */
const MISSED = 0.2;
const MOST_MISSED = 6;
const STRAY = 0.1;
/** A clock is told only below this chance, and where it explains most of the intervals. */
const MOST_CHANCE = 0.001;
const LEAST_SHARE = 0.6;
const LEAST_INTERVALS = 3;

/**
 * The clock of events, or null where chance will do.
 *
 * @param series times in s, rising; one array for each stand, since a clock may start anew with each
 * @param leastS no two events can follow each other faster than this, s
 */
export function findClock(series: readonly (readonly number[])[], leastS: number): Clock | null {
  const apart = series.flatMap((times) => intervalsOf(times));
  const through = intervalsOf(series.flat());
  const [restarts, runsOn] = [weigh(apart, leastS), weigh(through, leastS)];
  const chance = 2 / ((restarts?.odds ?? 0) + (runsOn?.odds ?? 0));
  if (!(chance <= MOST_CHANCE)) return null;
  const [best, intervals] = (restarts?.odds ?? 0) >= (runsOn?.odds ?? 0) ? [restarts, apart] : [runsOn, through];
  if (!best) return null;
  return clockOf(intervals, best.periodS, best.jitter, chance);
}

const intervalsOf = (times: readonly number[]) => times.slice(1).map((t, k) => t - times[k]);

interface Weighed {
  readonly odds: number;
  readonly periodS: number;
  readonly jitter: number;
}

function weigh(intervals: readonly number[], leastS: number): Weighed | null {
  if (intervals.length < LEAST_INTERVALS) return null;
  const byChance = logChance(intervals.map((s) => Math.max(s - leastS, 1)));
  const logs: number[] = [];
  let best = { log: Number.NEGATIVE_INFINITY, periodS: 0, jitter: 0 };
  for (const jitter of JITTERS) {
    const steps = Math.round(Math.log(LONGEST_S / SHORTEST_S) / jitter);
    for (let k = 0; k <= steps; k++) {
      const periodS = SHORTEST_S * Math.exp(k * jitter);
      const log = logClock(intervals, periodS, jitter);
      // Each steadiness weighs the same, however many periods it needs.
      logs.push(log - byChance - Math.log((steps + 1) * JITTERS.length));
      if (log > best.log) best = { log, periodS, jitter };
    }
  }
  const top = logs.reduce((a, b) => Math.max(a, b));
  const odds = Math.exp(Math.min(700, top)) * logs.reduce((sum, log) => sum + Math.exp(log - top), 0);
  return { odds, periodS: best.periodS, jitter: best.jitter };
}

/** Log-likelihood of intervals under a clock. */
function logClock(intervals: readonly number[], periodS: number, jitter: number): number {
  let log = 0;
  for (const s of intervals) {
    const m = Math.round(s / periodS);
    let density = (STRAY / periodS) * Math.exp(-s / periodS);
    if (m >= 1 && m <= MOST_MISSED) {
      const sd = jitter * periodS * Math.sqrt(m);
      const off = (s - m * periodS) / sd;
      const weight = (1 - STRAY) * (1 - MISSED) * MISSED ** (m - 1);
      density += (weight * Math.exp(-0.5 * off * off)) / (sd * Math.sqrt(2 * Math.PI));
    }
    log += Math.log(density + Number.MIN_VALUE);
  }
  return log;
}

/** The best log-likelihood of waiting times where events come singly (one rate) or in bursts (two). */
function logChance(waits: readonly number[]): number {
  const meanS = waits.reduce((sum, s) => sum + s, 0) / waits.length;
  let best = -waits.length * (Math.log(meanS) + 1);
  for (const ratio of [4, 30]) best = Math.max(best, logBursts(waits, meanS, ratio));
  return best;
}

/** Two rates fitted by expectation and maximisation, from one start. */
function logBursts(waits: readonly number[], meanS: number, ratio: number): number {
  let [shortS, longS, share] = [meanS / ratio, meanS * 2, 0.5];
  let log = Number.NEGATIVE_INFINITY;
  for (let round = 0; round < 60; round++) {
    log = 0;
    const sum = { n: 0, short: 0, long: 0 };
    for (const s of waits) {
      const a = (share / shortS) * Math.exp(-s / shortS);
      const b = ((1 - share) / longS) * Math.exp(-s / longS);
      const p = a / (a + b + Number.MIN_VALUE);
      log += Math.log(a + b + Number.MIN_VALUE);
      sum.n += p;
      sum.short += p * s;
      sum.long += (1 - p) * s;
    }
    if (sum.n < 1e-6 || waits.length - sum.n < 1e-6) return log;
    [shortS, longS, share] = [sum.short / sum.n, sum.long / (waits.length - sum.n), sum.n / waits.length];
  }
  return log;
}

/** Period from the intervals that fit, or null where too few do. */
function clockOf(intervals: readonly number[], guessS: number, jitter: number, chance: number): Clock | null {
  const fitting = intervals.flatMap((s) => {
    const m = Math.round(s / guessS);
    const fits = m >= 1 && m <= MOST_MISSED && Math.abs(s - m * guessS) <= 3 * jitter * guessS * Math.sqrt(m);
    return fits ? [{ s, m }] : [];
  });
  const singles = fitting.filter(({ m }) => m === 1).length;
  const share = fitting.length / intervals.length;
  if (share < LEAST_SHARE || singles < 0.5 * fitting.length) return null;
  const periodS = fitting.reduce((sum, { s }) => sum + s, 0) / fitting.reduce((sum, { m }) => sum + m, 0);
  const squares = fitting.reduce((sum, { s, m }) => sum + (s - m * periodS) ** 2 / m, 0);
  return { periodS, jitterS: Math.sqrt(squares / Math.max(1, fitting.length - 1)), chance, share };
}
