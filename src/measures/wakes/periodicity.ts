/**
 * Does a series of events hold a clock, or do they come at random? The times are weighed under both: a clock among other
 * events (the next one a period later, sometimes one or more are missed, rarely it starts anew) of every period,
 * steadiness and share from a fixed list, and chance (events that come singly or in bursts, whatever their rates). The mean
 * over the list of how much likelier the clock makes the times than the best that chance can do exceeds c by luck in fewer
 * than one case of c (Markov's inequality, as in Wasserman, Ramdas and Balakrishnan, "Universal inference", PNAS 2020, from
 * memory), so 1/c is given as the chance. No lots are drawn and the answer is always the same.
 */
import { median } from '../../battery/statistics.ts';
import { logChance } from './chance-events.ts';

export interface Clock {
  readonly periodS: number;
  /** How much single intervals vary, s (standard deviation). */
  readonly jitterS: number;
  /** Upper bound of the probability that events without a clock look so regular. */
  readonly chance: number;
  /** Which of the events keep it, counted over all series in order. */
  readonly members: readonly number[];
}

const SHORTEST_S = 120;
const LONGEST_S = 2 * 86_400;
/** Tried: standard deviation of an interval, in periods, and other events for each period. */
const JITTERS = [0.0002, 0.01, 0.02, 0.04, 0.08];
/** So steady are crystals: few beats show them. Only periods near to an interval of theirs are worth a trial, up to so many beats. */
const STEADY = 0.001;
const STEADY_BEATS = 3;
const OTHERS = [0.05, 0.7];
/** The next event seen is that of beat m with a chance of this / m² (they add up to 1): a busy vehicle misses many in a row. */
const NEXT_BEAT = 6 / Math.PI ** 2;
const MOST_BEATS = 12;
/** Chance of a clock that starts anew. */
const ANEW = 0.05;
/** An event is tied to one of so many before it. */
const REACH = 12;
/** A clock is told only below this chance, and with so many events that mostly follow at one period. */
const MOST_CHANCE = 0.001;
const LEAST_MEMBERS = 4;
/** More events than this only take time. */
const MOST_EVENTS = 150;

interface Beat {
  readonly periodS: number;
  readonly jitter: number;
}

interface Guess extends Beat {
  readonly others: number;
}

/**
 * The clock among events, or null where chance will do.
 *
 * @param series times in s, rising; one array for each stand, since a clock may start anew with each
 * @param leastS no two events can follow each other faster than this, s
 * @param stepS the times are known to this, s: no clock is told to be steadier
 */
export function findClock(series: readonly (readonly number[])[], leastS: number, stepS = 1): Clock | null {
  const few = firstOf(series, MOST_EVENTS);
  if (few.flat().length < LEAST_MEMBERS) return null;
  const restarts = weigh(few, leastS, stepS);
  const runsOn = few.length > 1 ? weigh([few.flat()], leastS, stepS) : restarts;
  const chance = 2 / (restarts.odds + runsOn.odds);
  if (!(chance <= MOST_CHANCE)) return null;
  return restarts.odds >= runsOn.odds
    ? clockOf(series, restarts.guess, chance)
    : clockOf([series.flat()], runsOn.guess, chance);
}

/** The first `most` events of all. */
function firstOf(series: readonly (readonly number[])[], most: number): number[][] {
  let left = most;
  return series.map((times) => {
    const taken = times.slice(0, left);
    left -= taken.length;
    return taken;
  });
}

function weigh(series: readonly (readonly number[])[], leastS: number, stepS: number): { odds: number; guess: Guess } {
  const waits = series.flatMap((times) => times.slice(1).map((t, k) => Math.max(t - times[k] - leastS, 1)));
  const byChance = logChance(waits);
  const usualS = median(waits);
  const sinces = series.map(sincesOf);
  const follows = sinces.map(({ length }) => new Float64Array(length));
  const weights = new Float64Array(series.reduce((most, { length }) => Math.max(most, length), 0));
  const longestS = 1.5 * waits.reduce((a, b) => Math.max(a, b), 0) + leastS;
  const logs: number[] = [];
  let guess: Guess = { periodS: SHORTEST_S, jitter: JITTERS[0], others: OTHERS[0] };
  let best = Number.NEGATIVE_INFINITY;
  for (const jitter of JITTERS) {
    const steps = Math.round(Math.log(LONGEST_S / SHORTEST_S) / jitter);
    const tried =
      jitter < STEADY ? nearIntervals(series, jitter, steps) : Array.from({ length: steps + 1 }, (_, k) => k);
    for (const k of tried) {
      const periodS = SHORTEST_S * Math.exp(k * jitter);
      if (jitter < STEADY && jitter * periodS < stepS) continue;
      // Hopeless ones are passed over: that can only make the mean smaller.
      if (periodS > longestS || periodS * MOST_BEATS < usualS) continue;
      const beat = { periodS, jitter };
      for (let at = 0; at < series.length; at++) followings(sinces[at], beat, follows[at]);
      for (const others of OTHERS) {
        const one = { periodS, jitter, others };
        const log = series.reduce((sum, times, at) => sum + logClock(times, one, follows[at], weights), 0);
        // Each steadiness weighs the same, however many periods it needs.
        logs.push(log - byChance - Math.log((steps + 1) * JITTERS.length * OTHERS.length));
        if (log > best) [best, guess] = [log, one];
      }
    }
  }
  const top = logs.reduce((a, b) => Math.max(a, b), Number.NEGATIVE_INFINITY);
  if (logs.length === 0) return { odds: 0, guess };
  return { odds: Math.exp(Math.min(700, top)) * logs.reduce((sum, log) => sum + Math.exp(log - top), 0), guess };
}

/** Periods of the list, by their places in it, that an interval between neighbours is one or a few beats of. */
function nearIntervals(series: readonly (readonly number[])[], jitter: number, steps: number): number[] {
  const near = new Set<number>();
  for (const times of series) {
    for (let j = 1; j < times.length; j++) {
      for (let beats = 1; beats <= STEADY_BEATS; beats++) {
        const k = Math.round(Math.log((times[j] - times[j - 1]) / beats / SHORTEST_S) / jitter);
        for (let at = k - 2; at <= k + 2; at++) if (at >= 0 && at <= steps) near.add(at);
      }
    }
  }
  return [...near].sort((a, b) => a - b);
}

/** Chance that the next event seen is that of beat m, and how much wider it scatters than that of the first. */
const AT_BEAT = Float64Array.from({ length: MOST_BEATS + 1 }, (_, m) => (1 - ANEW) * (NEXT_BEAT / (m * m)));
const WIDER = Float64Array.from({ length: MOST_BEATS + 1 }, (_, m) => Math.sqrt(m));
const ROOT_TAU = Math.sqrt(2 * Math.PI);

/** Density of the clock's next event after `s`, 1/s. */
function density(s: number, { periodS, jitter }: Beat): number {
  const m = Math.round(s / periodS);
  if (m > MOST_BEATS) return 0;
  const anew = ANEW / (MOST_BEATS * periodS);
  const sd = jitter * periodS * WIDER[m];
  const off = (s - m * periodS) / sd;
  if (m < 1 || off * off > 40) return anew;
  return anew + (AT_BEAT[m] * Math.exp(-0.5 * off * off)) / (sd * ROOT_TAU);
}

/** How long each event comes after each of the `REACH` before it, the nearest first, s; endless where there is none. */
function sincesOf(times: readonly number[]): Float64Array {
  const sinces = new Float64Array(times.length * REACH).fill(Number.POSITIVE_INFINITY);
  for (let k = 1; k < times.length; k++)
    for (let back = 1; back <= Math.min(k, REACH); back++) sinces[k * REACH + back - 1] = times[k] - times[k - back];
  return sinces;
}

/** The density of each of `sinces`; 0 where it lies too far back. Thousands of periods are asked about: into memory that is there. */
function followings(sinces: Float64Array, beat: Beat, found: Float64Array): void {
  const tiedS = (MOST_BEATS + 0.5) * beat.periodS;
  for (let k = 0; k < sinces.length; k++) found[k] = sinces[k] < tiedS ? density(sinces[k], beat) : 0;
}

/**
 * Log-likelihood of one series after its first event: the sum over all ways to part it into the clock's events and others,
 * which come at random. `weights[k]` is that of all ways in which event k is the clock's latest, as a multiple of all
 * events being others; `follows` is that of `followings`. What stood in `weights` is written over.
 */
function logClock(times: readonly number[], guess: Guess, follows: Float64Array, weights: Float64Array): number {
  const n = times.length;
  if (n < 2) return 0;
  const rate = guess.others / guess.periodS;
  weights[0] = 0.5;
  let none = 0.5;
  let scale = 0;
  for (let k = 1; k < n; k++) {
    // The clock's first event comes within about a period.
    none *= Math.exp((times[k - 1] - times[k]) / guess.periodS);
    let sum = none / guess.periodS;
    for (let back = 1; back <= Math.min(k, REACH); back++) sum += weights[k - back] * follows[k * REACH + back - 1];
    weights[k] = sum / rate;
    if (weights[k] > 1e100) {
      for (let j = 0; j <= k; j++) weights[j] *= 1e-100;
      none *= 1e-100;
      scale += 100 * Math.LN10;
    }
  }
  let total = none;
  for (let k = Math.max(0, n - REACH); k < n; k++) {
    const beats = Math.floor((times[n - 1] - times[k]) / guess.periodS);
    total += weights[k] * Math.min(1, NEXT_BEAT / (beats + 0.5));
  }
  return Math.log(total + Number.MIN_VALUE) + scale + (n - 1) * Math.log(rate) - rate * (times[n - 1] - times[0]);
}

/** The likeliest way to part the events, as those that follow each other by the clock; it may start anew anywhere. */
function chainOf(times: readonly number[], guess: Guess): { from: number; to: number }[] {
  const rate = guess.others / guess.periodS;
  const logs: number[] = [];
  const before: number[] = [];
  let best = -1;
  times.forEach((t, k) => {
    logs[k] = (best < 0 ? 0 : logs[best]) + Math.log(ANEW / guess.others);
    before[k] = best;
    for (let j = Math.max(0, k - REACH); j < k; j++) {
      const log = logs[j] + Math.log((density(t - times[j], guess) + Number.MIN_VALUE) / rate);
      if (log > logs[k]) [logs[k], before[k]] = [log, j];
    }
    if (best < 0 || logs[k] > logs[best]) best = k;
  });
  const links: { from: number; to: number }[] = [];
  for (let k = best; k >= 0 && before[k] >= 0; k = before[k]) links.push({ from: before[k], to: k });
  return links.reverse();
}

/** Period and members from the intervals that fit, or null where too few do. */
function clockOf(series: readonly (readonly number[])[], guess: Guess, chance: number): Clock | null {
  const members = new Set<number>();
  const fitting: { s: number; m: number }[] = [];
  let offset = 0;
  for (const times of series) {
    for (const { from, to } of chainOf(times, guess)) {
      const s = times[to] - times[from];
      const m = Math.round(s / guess.periodS);
      const far = 3.5 * guess.jitter * guess.periodS * Math.sqrt(m);
      if (m < 1 || Math.abs(s - m * guess.periodS) > far) continue;
      fitting.push({ s, m });
      members.add(offset + from).add(offset + to);
    }
    offset += times.length;
  }
  const singles = fitting.filter(({ m }) => m === 1).length;
  if (members.size < LEAST_MEMBERS || singles < 0.5 * fitting.length) return null;
  const periodS = fitting.reduce((sum, { s }) => sum + s, 0) / fitting.reduce((sum, { m }) => sum + m, 0);
  const squares = fitting.reduce((sum, { s, m }) => sum + (s - m * periodS) ** 2 / m, 0);
  const jitterS = Math.sqrt(squares / Math.max(1, fitting.length - 1));
  return { periodS, jitterS, chance, members: [...members].sort((a, b) => a - b) };
}
