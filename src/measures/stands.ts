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
  applies: 'once asleep; vehicle makers publish from 15 to 65 mA by vehicle (seen), and the maker’s figure comes first',
};

export const SLEEP_WITHIN: DefaultLimit = {
  key: 'sleepWithin',
  value: 3600,
  unit: 's',
  source: NO_SOURCE,
  applies: 'from key-off; vehicle makers have the draw measured after 5 to 40 min (seen)',
};

/** Sleep below this, in one stand, is too short to call its draw the sleeping draw, s. */
export const ENOUGH_ASLEEP_S = 1800;

/** What is read together at least, s: the tiles that a log is worked out in are no finer. */
const FINEST_S = 1;
/** A current that fades away has no one moment of falling asleep: no verdict rests on less, s. Common practice, no source. */
const FADING_S = 30;

const stepOf = (analysis: Analysis) => analysis.stepsS.parked ?? analysis.medianStepS;

/**
 * Of the time between two moments such as key-off and falling asleep, s: each lies anywhere between two rows, and takes the begin of a
 * tile. Where a tile holds several rows, the one in which the key was turned counts to either side.
 */
export function betweenEdges(analysis: Analysis): Uncertainty {
  const stepS = stepOf(analysis);
  const bounds =
    stepS < FINEST_S ? [FINEST_S, FINEST_S / 2, stepS / 2, stepS / 2] : [stepS / 2, stepS / 2, FINEST_S / 2];
  return uncertaintyOf(bounds, 0);
}

/** The same where a verdict is asked of it: with what a fading current leaves open at either end. */
export function betweenFading(analysis: Analysis): Uncertainty {
  const edgeS = Math.max(FADING_S, stepOf(analysis));
  return uncertaintyOf([edgeS, edgeS], 0);
}

/** That, expanded, s. */
export function sleepTimeU(analysis: Analysis): number {
  return expandedU(betweenFading(analysis));
}

/** Stands with enough sleep to measure its draw. */
export function sleepers(analysis: Analysis): (Stand & { readonly sleepDrawA: Measured })[] {
  return analysis.stands.filter(
    (stand): stand is Stand & { readonly sleepDrawA: Measured } =>
      stand.sleepDrawA !== null && stand.asleepS >= ENOUGH_ASLEEP_S,
  );
}
