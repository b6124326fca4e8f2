/**
 * Which answers about wakes a scenario leaves no doubt about: `wake-ups`, `held-awake` and `circuit-link`. Only for sensors
 * that can be read; the trade's habits stand as limits (50 mA on the mean, an hour to sleep).
 */
import type { Status } from '../checks/check.ts';
import type { Scenario } from './scenario.ts';
import type { TruePeriod, Truth } from './truth.ts';

const LIMIT_A = 0.05;
const LONG_S = 3600;
const SURELY_BRIEF_S = 3000;
const SURELY_HELD_S = 4500;
/** Less sleep than this shows little of wakes. */
const ENOUGH_SEEN_S = 8 * 3600;

export function expectedOfWakes(
  scenario: Scenario,
  truth: Omit<Truth, 'expected'>,
): Readonly<Record<string, readonly Status[]>> {
  const asleepS = truth.parked.reduce((sum, stand) => sum + stand.asleepS, 0);
  const brief = truth.wakes.filter((wake) => wake.seconds <= LONG_S);
  const seenS = asleepS + brief.reduce((sum, wake) => sum + wake.seconds, 0);
  const wakesA = (brief.reduce((sum, wake) => sum + wake.chargeAh, 0) * 3600) / seenS;
  // Two standard deviations of what chance does to their count.
  const luckA = (2 * Math.sqrt(brief.reduce((sum, wake) => sum + wake.chargeAh ** 2, 0)) * 3600) / seenS;
  const enough = asleepS > ENOUGH_SEEN_S;
  const surelyCostly = enough && wakesA - luckA > 1.1 * LIMIT_A;
  const surelyCheap = enough && wakesA + luckA < 0.15 * LIMIT_A;
  const [wakeS, settleS] = [longestS(truth, 'awake'), longestS(truth, 'settling')];
  const tied = scenario.channels.filter(({ label }) => truth.wakes.some((wake) => wake.channels.includes(label)));
  return {
    ...(surelyCostly && { 'wake-ups': ['fault'] }),
    ...(surelyCheap && { 'wake-ups': ['clear'] }),
    ...(enough && wakeS > SURELY_HELD_S && { 'held-awake': ['fault', 'watch'] }),
    ...(enough && Math.max(wakeS, settleS) < SURELY_BRIEF_S && { 'held-awake': ['clear'] }),
    ...(scenario.channels.length > 0 &&
      truth.wakes.length > 0 &&
      tied.length === 0 && { 'circuit-link': ['clear', 'undecided'] }),
    ...(surelyCostly && truth.wakes.length > 5 && isSteadyLink(truth, tied[0]?.label) && { 'circuit-link': ['fault'] }),
  };
}

/** At least five wakes, and nine tenths of all, came with the circuit. */
function isSteadyLink({ wakes }: Omit<Truth, 'expected'>, label: string | undefined): boolean {
  const together = wakes.filter((wake) => label !== undefined && wake.channels.includes(label)).length;
  return together >= 5 && together > 0.9 * wakes.length;
}

/** Longest stretch after a wake, or after a key-off that is in the log; charging and fitting do not count. */
function longestS(truth: Omit<Truth, 'expected'>, sought: 'awake' | 'settling'): number {
  const isCharged = (period: TruePeriod) => truth.topUps.some((up) => up.start < period.end && up.end > period.start);
  const begins = (t: number) => truth.parked.some((stand) => !stand.keyOffInLog && Math.abs(stand.start - t) < 1);
  return truth.periods
    .filter(({ kind, start }) => kind === sought && !begins(start))
    .filter((period) => !isCharged(period))
    .reduce((longest, { start, end }) => Math.max(longest, end - start), 0);
}
