/** What several checks ask about parked periods: which can be judged, and by what. */
import type { Analysis, Measured, Stand } from '../analysis/model.ts';
import { rectangular } from '../battery/uncertainty.ts';
import type { DefaultLimit } from './limit.ts';
import { NO_SOURCE } from './limit.ts';

export const PARKED_DRAW: DefaultLimit = {
  key: 'parkedDraw',
  value: 0.05,
  unit: 'A',
  source: NO_SOURCE,
  applies: 'once asleep; other shops use 25, 35 and 75 to 85 mA, and the vehicle maker’s figure comes first',
};

export const SLEEP_WITHIN: DefaultLimit = {
  key: 'sleepWithin',
  value: 3600,
  unit: 's',
  source: NO_SOURCE,
  applies: 'from key-off; most vehicles need minutes, some about an hour',
};

/** Sleep below this, in one stand, is too short to call its draw the sleeping draw, s. */
export const ENOUGH_ASLEEP_S = 1800;

/** The moments of key-off and of falling asleep are each known to about half a minute, or to one step of the log. */
export function sleepTimeU(analysis: Analysis): number {
  return 2 * Math.SQRT2 * rectangular(Math.max(30, analysis.stepsS.parked ?? analysis.medianStepS));
}

/** Stands with enough sleep to measure its draw. */
export function sleepers(analysis: Analysis): (Stand & { readonly sleepDrawA: Measured })[] {
  return analysis.stands.filter(
    (stand): stand is Stand & { readonly sleepDrawA: Measured } =>
      stand.sleepDrawA !== null && stand.asleepS >= ENOUGH_ASLEEP_S,
  );
}
