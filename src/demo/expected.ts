/**
 * Which answers a sound report may give, for the checks where a scenario leaves no doubt. What is not listed is not
 * clear-cut. The trade's habits stand as limits (50 mA once asleep; asleep within minutes to about an hour).
 */
import type { Status } from '../checks/check.ts';
import { expectedOfBattery } from './expected-battery.ts';
import { expectedOfWakes } from './expected-wakes.ts';
import type { Scenario } from './scenario.ts';
import type { Truth } from './truth.ts';

const LIMIT_A = 0.05;
const SURELY_SOON_S = 1500;
const SURELY_LATE_S = 4500;

export function expectedStatuses(
  scenario: Scenario,
  truth: Omit<Truth, 'expected'>,
): Readonly<Record<string, readonly Status[]>> {
  const expected: Record<string, readonly Status[]> = { ...expectedOfBattery(scenario, truth) };
  const { sensor } = scenario;
  const readable = sensor.hasCurrent && sensor.bypass === 0 && Math.abs(sensor.gain - 1) < 0.05;
  const errorA = Math.abs(sensor.offsetA) + Math.abs(sensor.driftA) * 20 + sensor.resolutionA + 0.003;

  const draws = truth.parked.flatMap((p) => (p.sleepDrawA !== null && p.asleepS > 3600 ? [p.sleepDrawA] : []));
  if (readable && draws.length > 0) {
    const low = Math.min(...draws) - errorA;
    const high = Math.max(...draws) + errorA;
    if (low > LIMIT_A * 1.1) expected['parked-draw'] = ['fault'];
    else if (high < LIMIT_A * 0.7) expected['parked-draw'] = ['clear'];
  }

  const stands = truth.parked.filter((p) => p.keyOffInLog);
  const settled = stands.flatMap((p) => (p.timeToSleepS === null ? [] : [p.timeToSleepS]));
  const never = stands.some((p) => p.timeToSleepS === null && p.end - p.start > 2 * SURELY_LATE_S);
  if (readable && (never || settled.some((s) => s > SURELY_LATE_S))) expected['sleep-time'] = ['fault', 'watch'];
  else if (readable && settled.length > 0 && Math.max(...settled) < SURELY_SOON_S) expected['sleep-time'] = ['clear'];

  if (readable) Object.assign(expected, expectedOfWakes(scenario, truth));

  if (scenario.powertrain === 'electric') {
    expected['crank-voltage'] = ['undecided'];
    expected['battery-resistance'] = ['undecided'];
  }
  const strongSigns = truth.cranks.length > 0 || truth.drives.length > 0;
  if (sensor.hasCurrent && strongSigns)
    expected['current-direction'] = sensor.reversed ? ['fault', 'watch'] : ['clear'];
  if (!sensor.hasCurrent)
    for (const id of ['parked-draw', 'current-direction', 'current-zero']) expected[id] = ['undecided'];
  if ((scenario.chargers ?? []).some((c) => c.to - c.from > 600)) expected['charger-seen'] = ['fault', 'watch'];
  if ((scenario.disconnected ?? []).some((d) => d.to - d.from > 60)) expected['supply-lost'] = ['fault', 'watch'];
  else if ((scenario.logging.gaps ?? []).length === 0) expected['supply-lost'] = ['clear'];
  // The inrush, which is what runs out of range, is gone after a tenth of a second.
  const fast = (scenario.logging.crank?.stepS ?? scenario.logging.stepS) <= 0.02;
  if (sensor.hasCurrent && fast && truth.cranks.some((c) => c.ampsPeak > 1.5 * sensor.rangeA))
    expected['current-range'] = ['fault', 'watch'];
  if ((scenario.logging.gaps ?? []).some((g) => g.to - g.from > 3600))
    expected['log-coverage'] = ['fault', 'watch', 'undecided'];
  return expected;
}
