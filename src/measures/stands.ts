/** What several checks ask about parked periods: which can be judged, which stayed awake, what a long stand draws. */
import type { Analysis, Measured, Stand } from '../analysis/model.ts';
import { tilesWithin } from '../analysis/tiles/tiles-in.ts';
import { decide, rectangular } from '../battery/uncertainty.ts';
import type { DefaultLimit } from './limit.ts';
import { limitOf, NO_SOURCE } from './limit.ts';
import { measure } from './measure.ts';
import { expandedU } from './sensor.ts';
import { secondsOf } from './spans.ts';

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

/**
 * Stands in which the vehicle had longer than it may take to sleep, undisturbed by a charger, and did not. Those whose
 * mean draw is not clearly above the parked limit are left out: there the sensor, not the vehicle, may be restless.
 */
export const stayedAwake = measure((analysis, session): Stand[] => {
  const withinS = limitOf(SLEEP_WITHIN, session).value;
  const drawA = limitOf(PARKED_DRAW, session).value;
  const U = sleepTimeU(analysis);
  return analysis.stands.filter((stand) => {
    if (!stand.keyOffInLog || stand.asleepS > 0 || stand.meanDrawA === null) return false;
    if (secondsOf(analysis.periods, ['on-charger', 'disconnected'], stand.start, stand.end) > 0) return false;
    const mean = stand.meanDrawA;
    const draws = decide({ value: mean.value, U: expandedU(mean, 'current', session), limit: drawA, side: 'max' });
    return draws === 'beyond' && decide({ value: stand.countedS, U, limit: withinS, side: 'max' }) === 'beyond';
  });
});

/** The least mean draw of any tile of the stands that stayed awake, A; null where they hold none. */
export const leastAwakeDrawA = measure((analysis, session): number | null => {
  const { tiles } = analysis;
  const draws = stayedAwake(analysis, session)
    .flatMap((stand) => tilesWithin(tiles, stand))
    .flatMap((k) => (Number.isNaN(tiles.i[k]) ? [] : [-tiles.i[k]]));
  return draws.length > 0 ? draws.reduce((least, drawA) => Math.min(least, drawA)) : null;
});
