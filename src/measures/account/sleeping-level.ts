/** What the vehicle draws asleep, also for stands in which it did not sleep; and how long it usually takes to get there. */
import type { Stand } from '../../analysis/model.ts';
import { median } from '../../battery/statistics.ts';
import { limitOf } from '../limit.ts';
import { measure } from '../measure.ts';
import { ENOUGH_ASLEEP_S, SLEEP_WITHIN } from '../stands.ts';

export interface SleepingLevel {
  /** A; null where no stand shows sleep. */
  readonly usualA: number | null;
  /** Usual time from key-off to sleep, s; where none was seen in time, the time it may take. */
  readonly settleS: number;
}

export const sleepingLevel = measure((analysis, session): SleepingLevel => {
  const withinS = limitOf(SLEEP_WITHIN, session).value;
  const slept = analysis.stands.filter((stand) => stand.sleepDrawA !== null);
  const long = slept.filter((stand) => stand.asleepS >= ENOUGH_ASLEEP_S);
  const draws = (long.length > 0 ? long : slept).flatMap(({ sleepDrawA }) => (sleepDrawA ? [sleepDrawA.value] : []));
  const settled = analysis.stands.flatMap(({ timeToSleepS }) =>
    timeToSleepS !== null && timeToSleepS <= withinS ? [timeToSleepS] : [],
  );
  return {
    usualA: draws.length > 0 ? median(draws) : null,
    settleS: settled.length > 0 ? median(settled) : withinS,
  };
});

/** Of one stand: its own level, else the vehicle's usual one; 0 where none was ever seen, A. */
export const levelOf = (stand: Stand, level: SleepingLevel) => stand.sleepDrawA?.value ?? level.usualA ?? 0;
