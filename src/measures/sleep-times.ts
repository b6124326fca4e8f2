/** Times from key-off to sleep, and which of them are too long. Stands that began before the log, or met a charger or a hole before sleep, do not count. */
import type { Stand } from '../analysis/model.ts';
import { decide, expand } from '../battery/uncertainty.ts';
import { limitOf } from './limit.ts';
import { measure } from './measure.ts';
import { secondsOf } from './spans.ts';
import { betweenFading, SLEEP_WITHIN } from './stands.ts';
import { stayedAwake } from './stayed-awake.ts';

export type SleptStand = Stand & { readonly timeToSleepS: number };

export interface SleepTimes {
  readonly slept: readonly SleptStand[];
  /** Those of them that took longer than the limit, beyond doubt. */
  readonly late: readonly SleptStand[];
  /** Long enough to have slept, and never did. */
  readonly awake: readonly Stand[];
  /** Expanded uncertainty of a time to sleep, s, and its coverage factor. */
  readonly U: number;
  readonly k: number;
}

export const sleepTimes = measure((analysis, session): SleepTimes => {
  const { value: limit } = limitOf(SLEEP_WITHIN, session);
  const { u, k } = betweenFading(analysis);
  const U = expand(u, k);
  const slept = analysis.stands.filter((stand): stand is SleptStand => {
    const { start, keyOffInLog, timeToSleepS } = stand;
    if (!keyOffInLog || timeToSleepS === null) return false;
    return secondsOf(analysis.periods, ['on-charger', 'disconnected', 'no-data'], start, start + timeToSleepS) === 0;
  });
  const late = slept.filter(({ timeToSleepS }) => decide({ value: timeToSleepS, U, limit, side: 'max' }) === 'beyond');
  return { slept, late, awake: stayedAwake(analysis, session), U, k };
});

/** Whether it slept too late, or never, at least once. */
export const sleepsLate = measure((analysis, session): boolean => {
  const { late, awake } = sleepTimes(analysis, session);
  return late.length + awake.length > 0;
});
