/** How sure it is what the vehicle was doing in the time that an answer rests on. */
import type { Analysis, PeriodKind } from '../analysis/model.ts';

/** Below it what is called a drive, a sleep or a charger may be something else: then it neither accuses nor clears. */
export const SURE = 0.7;

/** Mean certainty of all periods of these kinds, by their length, 0 to 1; 1 where there is none. */
export function surenessOf({ periods }: Pick<Analysis, 'periods'>, kinds: readonly PeriodKind[]): number {
  let seconds = 0;
  let sureS = 0;
  for (const { kind, start, end, certainty } of periods) {
    if (!kinds.includes(kind)) continue;
    seconds += end - start;
    sureS += certainty * (end - start);
  }
  return seconds > 0 ? sureS / seconds : 1;
}
