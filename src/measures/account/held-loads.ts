/**
 * Loads that stay: what goes on drawing for longer than a vehicle may need to fall asleep, from key-off or from within a
 * stand, until it ends or the vehicle is used again. A wake is over before.
 */
import type { Analysis, Span, Stand } from '../../analysis/model.ts';
import type { Session } from '../../manifest/session.ts';
import { limitOf } from '../limit.ts';
import { measure } from '../measure.ts';
import { goesOn, movement } from '../movement.ts';
import { SLEEP_WITHIN, sleepTimeU } from '../stands.ts';
import { type AwakeRun, awakeRuns, steadyDraw } from './awake-runs.ts';
import { levelOf, sleepingLevel } from './sleeping-level.ts';

/** Less than this above the sleeping level no load is told from what a sensor leaves open, A. Common practice, no source. */
const LEAST_A = 0.02;

export interface HeldLoad extends Span {
  /** Index into the analysis' stands. */
  readonly stand: number;
  /** Above the sleeping level, A, and Ah. */
  readonly meanA: number;
  readonly chargeAh: number;
  /** Time with current in it, s. */
  readonly seconds: number;
  readonly from: 'key-off' | 'before-log' | 'within';
  readonly until: 'key-on' | 'log-end' | 'within';
}

export const heldLoads = measure((analysis, session): readonly HeldLoad[] =>
  analysis.stands.flatMap((stand, at) =>
    awakeRuns(analysis, stand).flatMap((run) => heldIn(analysis, session, stand, at, run) ?? []),
  ),
);

/** Null where the run is a settling or a wake, or draws hardly more than sleep. */
function heldIn(analysis: Analysis, session: Session, stand: Stand, at: number, run: AwakeRun): HeldLoad | null {
  const withinS = limitOf(SLEEP_WITHIN, session).value;
  if (run.isToppedUp || run.seconds <= withinS + sleepTimeU(analysis)) return null;
  const level = sleepingLevel(analysis, session);
  const sleepA = levelOf(stand, level);
  const steady = steadyDraw(analysis, tailOf(run, level.settleS));
  if (!steady || steady.middleA - sleepA < LEAST_A) return null;
  // What crept up in one stand and stays up in the next came on in none of them.
  const { creep } = movement(analysis, session);
  if (creep && goesOn(creep, { start: run.start, drawA: steady.middleA })) return null;
  const meanA = steady.meanA - sleepA;
  const drawnAh = run.outAh - (sleepA * run.seconds) / 3600;
  return {
    start: run.start,
    end: run.end,
    stand: at,
    meanA,
    // With a zero that reads into the battery more would be in the load than flowed.
    chargeAh: Math.max(0, Math.min(drawnAh, (meanA * run.seconds) / 3600, run.outAh)),
    seconds: run.seconds,
    from: run.isFirst ? (stand.keyOffInLog ? 'key-off' : 'before-log') : 'within',
    until: run.isLast ? (stand.keyOnInLog ? 'key-on' : 'log-end') : 'within',
  };
}

/** Without the shutdown after key-off, which is a settling whatever else goes on. */
export function tailOf(run: AwakeRun, settleS: number): Span {
  const skipS = run.isFirst ? Math.min(settleS, (run.end - run.start) / 2) : 0;
  return { start: run.start + skipS, end: run.end };
}
