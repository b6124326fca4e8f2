/** What several checks ask about parked periods: which can be judged, which stayed awake, what a long stand draws. */
import type { Analysis, Measured, Parked, Wake } from '../analysis/model.ts';
import { combine, decide, rectangular } from '../battery/uncertainty.ts';
import type { Session } from '../manifest/session.ts';
import type { DefaultLimit } from './limit.ts';
import { limitOf, NO_SOURCE } from './limit.ts';
import { expandedU, standardU } from './sensor.ts';
import { secondsOf, total } from './spans.ts';
import { edgesU } from './wakes/wake-edges.ts';

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
export function sleepers(analysis: Analysis): (Parked & { readonly sleepDrawA: Measured })[] {
  return analysis.parked.filter(
    (stand): stand is Parked & { readonly sleepDrawA: Measured } =>
      stand.sleepDrawA !== null && stand.asleepS >= ENOUGH_ASLEEP_S,
  );
}

/**
 * Stands in which the vehicle had longer than it may take to sleep, undisturbed by a charger, and did not. Those whose
 * mean draw is not clearly above the parked limit are left out: there the sensor, not the vehicle, may be restless.
 */
export function stayedAwake(analysis: Analysis, session: Session): Parked[] {
  const withinS = limitOf(SLEEP_WITHIN, session).value;
  const drawA = limitOf(PARKED_DRAW, session).value;
  const U = sleepTimeU(analysis);
  return analysis.parked.filter((stand) => {
    if (!stand.keyOffInLog || stand.asleepS > 0 || stand.meanDrawA === null) return false;
    if (secondsOf(analysis.periods, ['on-charger', 'disconnected'], stand.start, stand.end) > 0) return false;
    const mean = stand.meanDrawA;
    const draws = decide({ value: mean.value, U: expandedU(mean, 'current', session), limit: drawA, side: 'max' });
    return draws === 'beyond' && decide({ value: stand.countedS, U, limit: withinS, side: 'max' }) === 'beyond';
  });
}

/**
 * Mean draw of a long stand, A: the sleeping draw and what the wakes add to it, without the settling, which comes once.
 * Where it never slept, the mean of the stands that stayed awake. The count of wakes is a sample: with n of them their
 * share is uncertain by 1/√n. Null where neither was seen for an hour.
 */
export function longRunDraw(analysis: Analysis, session: Session): Measured | null {
  const slept = analysis.parked.filter((stand) => stand.sleepDrawA !== null);
  const seconds = total(slept, (stand) => stand.asleepS + stand.awakeS);
  if (seconds >= 3600) {
    const share = (of: (draw: Measured) => number) =>
      total(slept, (stand) => (stand.sleepDrawA ? of(stand.sleepDrawA) * (stand.asleepS + stand.awakeS) : 0)) / seconds;
    const isOfThese = (wake: Wake) => analysis.parked[wake.parked]?.sleepDrawA != null;
    const wakes = analysis.wakes.filter(isOfThese);
    const wakesA = (total(wakes, (wake) => wake.chargeAh) * 3600) / seconds;
    const value = share((draw) => draw.value) + wakesA;
    return {
      value,
      u: combine(
        standardU({ value, u: share((draw) => draw.u) }, 'current', session),
        wakesA / Math.sqrt(wakes.length || 1),
        (edgesU(analysis, isOfThese) * 3600) / seconds,
      ),
    };
  }
  const awake = stayedAwake(analysis, session);
  const awakeS = total(awake, (stand) => stand.countedS);
  if (awakeS < 3600) return null;
  const mean = (of: (draw: Measured) => number) =>
    total(awake, (stand) => (stand.meanDrawA ? of(stand.meanDrawA) * stand.countedS : 0)) / awakeS;
  const value = mean((draw) => draw.value);
  return { value, u: standardU({ value, u: mean((draw) => draw.u) }, 'current', session) };
}
