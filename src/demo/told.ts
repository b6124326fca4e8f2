/** What the truth's answers are worked out from, and what they all ask of a sensor and a log. */
import type { Status } from '../checks/check.ts';
import type { Scenario, Sensor } from './scenario.ts';
import type { TrueCrank, Truth } from './truth.ts';

/** By check. */
export type Expected = Readonly<Record<string, readonly Status[]>>;

/** What happened, and to which vehicle. */
export interface Told {
  readonly scenario: Scenario;
  readonly truth: Omit<Truth, 'expected'>;
}

/** All current passes the sensor, and it shows it. */
export function lacksNothing({ hasCurrent, bypass, missesStarter, gain }: Sensor): boolean {
  return hasCurrent && bypass === 0 && !missesStarter && Math.abs(gain - 1) < 0.05;
}

/** What a parked vehicle draws can be read. */
export function isReadable({ sensor, extra = [] }: Scenario): boolean {
  return lacksNothing({ ...sensor, missesStarter: false }) && !extra.some(({ unseen }) => unseen);
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
