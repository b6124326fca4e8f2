/**
 * Which answers a sound report may give, for the checks where a scenario leaves no doubt. What is not listed is not
 * clear-cut. The trade's habits stand as limits (50 mA once asleep; asleep within minutes to about an hour).
 */
import { expectedOfBattery } from './expected-battery.ts';
import { expectedOfCharging } from './expected-charging.ts';
import { expectedOfLog } from './expected-log.ts';
import { expectedOfWakes } from './expected-wakes.ts';
import type { Scenario } from './scenario.ts';
import { drivesShow, type Expected, isReadable, isTurned, type Simulated } from './simulated.ts';

const LIMIT_A = 0.05;
const SURELY_SOON_S = 1500;
const SURELY_LATE_S = 4500;
/** Part of the system voltage below which modules switch off. */
const DEAD = 0.68;

export function expectedStatuses(scenario: Scenario, truth: Simulated['truth']): Expected {
  const simulated: Simulated = { scenario, truth };
  // What a vehicle does whose modules have lost their supply is not clear-cut, but that its battery is flat.
  if (truth.parked.some(({ lowestV }) => lowestV < DEAD * scenario.systemV)) return { 'deep-discharge': ['fault'] };
  const isRead = isReadable(scenario) && !isTurned(simulated);
  return {
    ...expectedOfBattery(simulated),
    ...expectedOfCharging(simulated),
    ...expectedOfLog(simulated),
    ...(isRead && parkedDraw(simulated)),
    ...(isRead && drivesShow(simulated) && { ...sleepTime(simulated), ...expectedOfWakes(simulated) }),
    ...(!scenario.sensor.hasCurrent && NO_CURRENT),
  };
}

const NO_CURRENT: Expected = {
  'parked-draw': ['undecided'],
  'current-direction': ['undecided'],
  'current-zero': ['undecided'],
};

function parkedDraw({ scenario, truth }: Simulated): Expected {
  const { offsetA, driftA, resolutionA } = scenario.sensor;
  const errorA = Math.abs(offsetA) + Math.abs(driftA) * 20 + resolutionA + 0.003;
  const draws = truth.parked.flatMap((p) => (p.sleepDrawA !== null && p.asleepS > 3600 ? [p.sleepDrawA] : []));
  if (draws.length === 0) return {};
  if (Math.min(...draws) - errorA > LIMIT_A * 1.1) return { 'parked-draw': ['fault'] };
  return Math.max(...draws) + errorA < LIMIT_A * 0.7 ? { 'parked-draw': ['clear'] } : {};
}

function sleepTime({ truth }: Simulated): Expected {
  const stands = truth.parked.filter((p) => p.keyOffInLog);
  const settled = stands.flatMap((p) => (p.timeToSleepS === null ? [] : [p.timeToSleepS]));
  const never = stands.some((p) => p.timeToSleepS === null && p.end - p.start > 2 * SURELY_LATE_S);
  if (never || settled.some((s) => s > SURELY_LATE_S)) return { 'sleep-time': ['fault', 'watch'] };
  return settled.length > 0 && Math.max(...settled) < SURELY_SOON_S ? { 'sleep-time': ['clear'] } : {};
}
