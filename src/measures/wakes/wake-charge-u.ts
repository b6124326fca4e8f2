/**
 * How sure the charge of wakes is. Their count in a log is a sample: where they keep a clock it is known to one wake, otherwise it
 * varies as chance events do (`countU`). Where what they cost is alike in every day and night that the vehicle stood, the days
 * themselves say how far their mean can be trusted, better than the number of wakes would if they came as they please (`nightsU`).
 * And the rows leave open where each begins and ends (`edgesU`).
 */
import type { Analysis, Wake } from '../../analysis/model.ts';
import type { Session } from '../../manifest/session.ts';
import { mostBy, secondsOf, total } from '../spans.ts';
import { wakePatterns } from './patterns.ts';
import { type WakePart, wakeParts } from './wake-parts.ts';

const DAY_S = 86_400;
/** Days with less sleep than this show no night, s; and fewer days than this no rule. Common practice, no source. */
const ENOUGH_S = 12 * 3600;
const LEAST_DAYS = 4;
/** A clock that is a little early one day and late the next, s. */
const EDGE_S = 3600;
/** Half of Student's t for 95 %, by degrees of freedom from 3 on, so that twice the result covers 95 % (any table of it; from memory). */
const HALF_T = [1.59, 1.39, 1.29, 1.22, 1.18, 1.15, 1.13, 1.11];
const HALF_T_OF_MANY = 1.08;
/** A clock that varies by less than this part of a step meets the rows always at the same place; evenly spread it were 0.29. */
const IN_STEP = 0.25;

const square = (x: number) => x * x;

/** Standard uncertainty of the charge of the wakes that are `counted`, Ah, from their number and their differences. */
export function countU(analysis: Analysis, session: Session, counted: (wake: Wake) => boolean): number {
  const parts = wakeParts(analysis, session);
  const isCounted = ({ wake }: WakePart) => counted(analysis.wakes[wake]);
  const byClock = wakePatterns(analysis, session)
    .filter((pattern) => pattern.periodS !== null)
    .map((pattern) => pattern.parts);
  const clocked = new Set(byClock.flat());
  const squares = total(
    parts.filter((part, k) => isCounted(part) && !clocked.has(k)),
    (part) => part.chargeAh ** 2,
  );
  const clocks = byClock.map((places) => {
    const own = places.map((k) => parts[k]).filter(isCounted);
    const meanAh = total(own, (wake) => wake.chargeAh) / Math.max(1, own.length);
    return meanAh ** 2 + total(own, (wake) => (wake.chargeAh - meanAh) ** 2);
  });
  return Math.sqrt(squares + total(clocks, (one) => one));
}

/**
 * Standard uncertainty of the charge of the wakes that are `counted`, Ah, by how it differs from day to day: that of a ratio
 * of sums, charge to time seen. Null for too few days.
 */
export function nightsU(analysis: Analysis, counted: (wake: Wake) => boolean): number | null {
  const wakes = analysis.wakes.filter(counted);
  const dearest = mostBy(wakes, (wake) => wake.chargeAh);
  if (!dearest) return null;
  // From the log's begin, or a quarter of a day later where the dearest wakes would lie at the edge.
  const intoDayS = (dearest.start - analysis.start) % DAY_S;
  const isAtEdge = intoDayS < EDGE_S || intoDayS > DAY_S - EDGE_S;
  const days: { readonly seenS: number; readonly chargeAh: number }[] = [];
  for (let from = analysis.start + (isAtEdge ? DAY_S / 4 : 0); from + DAY_S <= analysis.end + 60; from += DAY_S) {
    const seenS = secondsOf(analysis.periods, ['asleep', 'awake'], from, from + DAY_S);
    const own = wakes.filter(({ start }) => start >= from && start < from + DAY_S);
    if (seenS >= ENOUGH_S) days.push({ seenS, chargeAh: total(own, (wake) => wake.chargeAh) });
  }
  if (days.length < LEAST_DAYS) return null;
  const ofDaysS = total(days, (day) => day.seenS);
  const rate = total(days, (day) => day.chargeAh) / ofDaysS;
  const squares = total(days, ({ seenS, chargeAh }) => (chargeAh - rate * seenS) ** 2);
  const halfT = HALF_T[days.length - LEAST_DAYS] ?? HALF_T_OF_MANY;
  const ofDaysU = halfT * Math.sqrt((squares * days.length) / (days.length - 1));
  // What was seen besides whole days counts at the same rate.
  const allS = secondsOf(analysis.periods, ['asleep', 'awake'], analysis.start, analysis.end);
  return ofDaysU * Math.max(1, allS / ofDaysS);
}

/**
 * The same for what the rows leave open. Both ends of a wake lie anywhere between two rows, so its length is known to step/√6 (two
 * rectangular ends, JCGM 100). Wakes by a clock that runs in step with the rows are all cut in the same way: their errors add up
 * and do not average out.
 */
export function edgesU(analysis: Analysis, session: Session, counted: (wake: Wake) => boolean): number {
  const parts = wakeParts(analysis, session);
  const isCounted = ({ wake }: WakePart) => counted(analysis.wakes[wake]);
  const stepS = analysis.stepsS.awake ?? 0;
  const openAh = ({ chargeAh, seconds }: Wake) =>
    stepS > 0 ? (Math.abs(chargeAh) * stepS) / Math.sqrt(6) / Math.max(stepS, seconds - stepS) : 0;
  const inStep = wakePatterns(analysis, session)
    .filter(({ jitterS }) => jitterS !== null && jitterS < IN_STEP * stepS)
    .map((pattern) => pattern.parts);
  const taken = new Set(inStep.flat());
  const others = parts.filter((part, k) => isCounted(part) && !taken.has(k));
  const together = inStep.map((places) => total(places.map((k) => parts[k]).filter(isCounted), openAh));
  return Math.sqrt(total(others.map(openAh), square) + total(together, square));
}
