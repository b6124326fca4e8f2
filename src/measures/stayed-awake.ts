/** Stands in which the vehicle did not sleep although it had the time. */
import type { PeriodKind, Stand } from '../analysis/model.ts';
import { tilesWithin } from '../analysis/tiles/tiles-in.ts';
import { decide } from '../battery/uncertainty.ts';
import { steadyDraw } from './account/awake-runs.ts';
import { limitOf } from './limit.ts';
import { measure } from './measure.ts';
import { goesOn, movement } from './movement.ts';
import { expandedU } from './sensor.ts';
import { PARKED_DRAW, SLEEP_WITHIN, sleepTimeU } from './stands.ts';

/** Somebody at work takes the battery off within so many times the limit; after longer it had its time. Common practice, no source. */
const WORKED_ON = 4;
const DISTURBS: readonly PeriodKind[] = ['on-charger', 'disconnected'];

/**
 * Stands in which the vehicle had longer than it may take to sleep, undisturbed by a charger, and did not. Those whose
 * mean draw is not clearly above the parked limit are left out: there the sensor, not the vehicle, may be restless; and so
 * are those that only go on drawing what a stand before them crept up to.
 */
export const stayedAwake = measure((analysis, session): Stand[] => {
  const withinS = limitOf(SLEEP_WITHIN, session).value;
  const drawA = limitOf(PARKED_DRAW, session).value;
  const U = sleepTimeU(analysis);
  const { creep } = movement(analysis, session);
  return analysis.stands.filter((stand) => {
    if (!stand.keyOffInLog || stand.asleepS > 0 || stand.meanDrawA === null) return false;
    const disturbed = analysis.periods.find(
      ({ kind, start, end }) => DISTURBS.includes(kind) && end > stand.start && start < stand.end,
    );
    if (disturbed && (disturbed.kind === 'on-charger' || disturbed.start - stand.start < WORKED_ON * withinS))
      return false;
    const mean = stand.meanDrawA;
    const steady = creep && steadyDraw(analysis, { start: stand.start + stand.countedS / 2, end: stand.end });
    if (steady && goesOn(creep, { start: stand.start, drawA: steady.middleA })) return false;
    const draws = decide({ value: mean.value, U: expandedU(mean), limit: drawA, side: 'max' });
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
