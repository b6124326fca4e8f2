/** What several checks ask about parked periods: which can be judged, and by what. */
import type { Analysis, Measured, Stand } from '../analysis/model.ts';
import { type Uncertainty, uncertaintyOf } from '../battery/uncertainty.ts';
import type { DefaultLimit } from './limit.ts';
import { NO_SOURCE } from './limit.ts';
import { expandedU } from './sensor.ts';

export const PARKED_DRAW: DefaultLimit = {
  key: 'parkedDraw',
  value: 0.05,
  unit: 'A',
  source: NO_SOURCE,
  applies: 'once asleep; vehicle makers publish from 15 to 65 mA by vehicle, and the maker’s figure comes first',
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

/** Half-width, s: the moments of key-off and of falling asleep are each known to about half a minute, or to one step of the log. */
export function edgeS(analysis: Analysis): number {
  return Math.max(30, analysis.stepsS.parked ?? analysis.medianStepS);
}

/** Of the time between two such moments, s. */
export function betweenEdges(analysis: Analysis): Uncertainty {
  return uncertaintyOf([edgeS(analysis), edgeS(analysis)], 0);
}

/** The same, expanded, s. */
export function sleepTimeU(analysis: Analysis): number {
  return expandedU(betweenEdges(analysis));
}

/** Stands with enough sleep to measure its draw. */
export function sleepers(analysis: Analysis): (Stand & { readonly sleepDrawA: Measured })[] {
  return analysis.stands.filter(
    (stand): stand is Stand & { readonly sleepDrawA: Measured } =>
      stand.sleepDrawA !== null && stand.asleepS >= ENOUGH_ASLEEP_S,
  );
}
