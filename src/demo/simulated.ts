/** What the truth's answers are worked out from, and what they all ask of a sensor and a log. */

import { perTwelveVolt } from '../battery/chemistry.ts';
import { ENGINE_V } from '../battery/fed-voltage.ts';
import type { Status } from '../checks/check.ts';
import type { Scenario } from './scenario.ts';
import type { TrueCrank, Truth } from './truth.ts';

/** By check. */
export type Expected = Readonly<Record<string, readonly Status[]>>;

/** What happened, and to which vehicle. */
export interface Simulated {
  readonly scenario: Scenario;
  readonly truth: Omit<Truth, 'expected'>;
}

/** All current passes the sensor, and it shows it. */
export function seesAll({ sensor, extra = [] }: Scenario): boolean {
  return seesParked({ sensor, extra }) && !sensor.missesStarter;
}

/** The same for a parked vehicle, whose starter stands still. */
function seesParked({ sensor, extra = [] }: Pick<Scenario, 'sensor' | 'extra'>): boolean {
  const { hasCurrent, bypass, gain } = sensor;
  return hasCurrent && bypass === 0 && Math.abs(gain - 1) < 0.05 && !extra.some(({ unseen }) => unseen);
}

/** Turned round without anything that would show it, a draw reads as a current into the battery. */
export function isTurned({ scenario, truth }: Simulated): boolean {
  return scenario.sensor.reversed && truth.cranks.length + truth.drives.length === 0;
}

/** No current ran out of the sensor's range, nor near it. */
export function isInRange({ scenario, truth }: Simulated): boolean {
  return truth.extremes.amps < 0.9 * scenario.sensor.rangeA;
}

/** What a parked vehicle draws can be read: neither zero nor steps of the sensor hide it. */
export function isReadable(scenario: Scenario): boolean {
  const { offsetA, resolutionA } = scenario.sensor;
  return seesParked(scenario) && Math.abs(offsetA) < 0.02 && resolutionA < 0.03;
}

/** Drives show, be it by a starter that the log is fast enough for, or by a voltage that nothing but charging gives. */
export function drivesShow({ scenario, truth }: Simulated): boolean {
  const { powertrain, systemV, logging, sensor } = scenario;
  const stepS = logging.crank?.stepS ?? logging.stepS;
  if (powertrain === 'combustion' && stepS <= 1 && !sensor.missesStarter) return true;
  return truth.drives.every(({ voltsMedian }) => !(voltsMedian < ENGINE_V * perTwelveVolt(systemV)));
}

/** True where the log is fast enough for the voltage after the inrush. */
export function isPlateauSeen({ at, seconds }: TrueCrank, { logging, start }: Scenario): boolean {
  const stepS = logging.crank?.stepS ?? logging.stepS;
  const t = at - start;
  const holes = logging.gaps ?? [];
  return seconds - 0.3 > 4.5 * stepS && !holes.some(({ from, to }) => from < t + seconds + 5 && to > t - 5);
}

export function middle(values: readonly number[]): number {
  return values.toSorted((a, b) => a - b)[values.length >> 1];
}
