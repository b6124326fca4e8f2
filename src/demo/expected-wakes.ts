/**
 * Which answers about wakes a scenario leaves no doubt about: `wake-ups`, `held-awake` and `circuit-link`. Only for sensors
 * that can be read; the trade's habits stand as limits (50 mA on the mean, an hour to sleep).
 */
import { meetAtLeast } from '../battery/counts.ts';
import { drivesShow, type Expected, isReadable, type Simulated } from './simulated.ts';
import type { TruePeriod } from './truth.ts';

const LIMIT_A = 0.05;
const LONG_S = 3600;
const SURELY_BRIEF_S = 3000;
const SURELY_HELD_S = 4500;
/** Less sleep than this shows little of wakes. */
const ENOUGH_SEEN_S = 8 * 3600;

export function expectedOfWakes({ scenario, truth }: Simulated): Expected {
  const asleepS = truth.parked.reduce((sum, stand) => sum + stand.asleepS, 0);
  const { wakesA, luckA } = wakeDraw(truth);
  const enough = asleepS > ENOUGH_SEEN_S;
  const surelyCostly = enough && wakesA - luckA > 1.1 * LIMIT_A;
  const surelyCheap = enough && wakesA + luckA < 0.15 * LIMIT_A;
  const [wakeS, settleS] = [longestS(truth, 'awake'), longestS(truth, 'settling')];
  const tied = scenario.channels.filter(({ label }) => truth.wakes.some((wake) => wake.channels.includes(label)));
  const held = holdOf({ scenario, truth });
  const steady = surelyCostly && truth.wakes.length > 5 && isSteadyLink(truth, tied[0]?.label);
  return {
    ...(surelyCostly && { 'wake-ups': ['fault'] }),
    ...(surelyCheap && { 'wake-ups': ['clear'] }),
    ...(enough && wakeS > SURELY_HELD_S && { 'held-awake': ['fault', 'watch'] }),
    ...(enough && Math.max(wakeS, settleS) < SURELY_BRIEF_S && { 'held-awake': ['clear'] }),
    ...(scenario.channels.length > 0 &&
      truth.wakes.length > 0 &&
      tied.length + held.slow === 0 && { 'circuit-link': ['clear', 'undecided'] }),
    ...((steady || held.isClear) && { 'circuit-link': ['fault'] }),
  };
}

/** Mean draw of a long stand, A, within what the chance of wakes leaves open; null where no sleep was logged and readable. */
export function longRunDraw({ scenario, truth }: Simulated): { readonly lowA: number; readonly highA: number } | null {
  const stands = truth.parked.filter((stand) => stand.sleepDrawA !== null);
  const asleepS = stands.reduce((sum, stand) => sum + stand.asleepS, 0);
  if (asleepS < ENOUGH_SEEN_S || !isReadable(scenario) || !drivesShow({ scenario, truth })) return null;
  const { offsetA, driftA, resolutionA } = scenario.sensor;
  const errorA = Math.abs(offsetA) + 20 * Math.abs(driftA) + resolutionA + 0.002;
  const sleepA = stands.reduce((sum, stand) => sum + (stand.sleepDrawA ?? 0) * stand.asleepS, 0) / asleepS;
  const { wakesA, luckA } = wakeDraw(truth, Number.POSITIVE_INFINITY);
  return { lowA: Math.max(0, sleepA + wakesA - luckA - errorA), highA: sleepA + wakesA + luckA + errorA };
}

/** What wakes no longer than so many s add to the mean draw, A, with two standard deviations of what chance does to their count. */
function wakeDraw(truth: Simulated['truth'], longestS = LONG_S) {
  const brief = truth.wakes.filter((wake) => wake.seconds <= longestS);
  const asleepS = truth.parked.reduce((sum, stand) => sum + stand.asleepS, 0);
  const seenS = asleepS + brief.reduce((sum, wake) => sum + wake.seconds, 0);
  return {
    wakesA: (brief.reduce((sum, wake) => sum + wake.chargeAh, 0) * 3600) / seenS,
    luckA: (2 * Math.sqrt(brief.reduce((sum, wake) => sum + wake.chargeAh ** 2, 0)) * 3600) / seenS,
  };
}

/** Key-offs after which a monitored circuit held the vehicle awake; `isClear`: too long, and beside quick ones enough to tell. */
function holdOf({ scenario, truth }: Simulated): { readonly slow: number; readonly isClear: boolean } {
  const holdAt = (stand: { start: number }) =>
    scenario.drives.find(
      (drive) => drive.held && Math.abs(keyOffOf(truth, drive.at + scenario.start) - stand.start) < 1,
    );
  const seen = truth.parked.filter((stand) => stand.keyOffInLog && stand.end - stand.start > 2 * SURELY_HELD_S);
  const slow = seen.filter((stand) => holdAt(stand)?.held?.channel !== undefined);
  const late = slow.filter((stand) => (stand.timeToSleepS ?? Number.POSITIVE_INFINITY) > SURELY_HELD_S);
  const quick = seen.filter((stand) => stand.timeToSleepS !== null && stand.timeToSleepS < SURELY_BRIEF_S / 3);
  const chance = meetAtLeast(slow.length, slow.length, slow.length, slow.length + quick.length);
  const whole = slow.length > 0 && late.length === slow.length && slow.length + quick.length === seen.length;
  return { slow: slow.length, isClear: whole && chance * scenario.channels.length < 0.008 };
}

/** The key-off that ends the trip begun at `keyOn`. */
function keyOffOf(truth: Simulated['truth'], keyOn: number): number {
  return truth.parked.find((stand) => stand.start > keyOn)?.start ?? Number.NaN;
}

/** At least five wakes, and nine tenths of all, came with the circuit. */
function isSteadyLink({ wakes }: Simulated['truth'], label: string | undefined): boolean {
  const together = wakes.filter((wake) => label !== undefined && wake.channels.includes(label)).length;
  return together >= 5 && together > 0.9 * wakes.length;
}

/** Longest stretch after a wake, or after a key-off that is in the log; charging and fitting do not count. */
function longestS(truth: Simulated['truth'], sought: 'awake' | 'settling'): number {
  const isCharged = (period: TruePeriod) => truth.topUps.some((up) => up.start < period.end && up.end > period.start);
  const begins = (t: number) => truth.parked.some((stand) => !stand.keyOffInLog && Math.abs(stand.start - t) < 1);
  return truth.periods
    .filter(({ kind, start }) => kind === sought && !begins(start))
    .filter((period) => !isCharged(period))
    .reduce((longest, { start, end }) => Math.max(longest, end - start), 0);
}
