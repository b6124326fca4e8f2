/** Starts that did not start the engine. One that the next attempt cures is a driver's; several, or a last one, are the vehicle's. */
import type { Analysis } from '../analysis/model.ts';
import type { Session } from '../manifest/session.ts';
import { netChargeAh } from './charge-counted.ts';
import { DRIVE_SIZED_S, driveSizedA } from './drive-sized.ts';
import { measure } from './measure.ts';
import { total } from './spans.ts';

/** What ends the log, or a crank cut by it, shows no failed start, s. */
const SEEN_AFTER_S = 600;
/** More of them, though the engine ran later, are no chance. Common practice, no source. */
const SEVERAL = 3;

export interface FailedStarts {
  readonly count: number;
  /** When the last one was. */
  readonly lastT: number;
  /** The engine did not run after it. */
  readonly isLost: boolean;
  /** Enough of them to be told as a fault; fewer are worth a look. */
  readonly isFault: boolean;
  /** After each of them as much flowed out, for minutes, as a drive without charging takes: it may have run. */
  readonly mayHaveRun: boolean;
  /** What flowed out in those minutes, Ah. */
  readonly afterAh: number;
}

/** Null without any, and where the only one was cured by the next attempt. */
export const failedStarts = measure((analysis: Analysis, session: Session): FailedStarts | null => {
  // Where the voltage falls to nearly nothing a contact was lost, and no starter turned.
  const leastV = 0.25 * session.vehicle.systemV;
  const failed = analysis.events.filter(({ kind, voltsMin }) => kind === 'failed-start' && voltsMin > leastV);
  const last = failed.at(-1);
  if (!last) return null;
  const lastT = last.start;
  const isLost =
    analysis.end > lastT + last.seconds + SEEN_AFTER_S && !analysis.drives.some(({ start }) => start >= lastT);
  if (failed.length < 2 && !isLost) return null;
  const leastAh = (driveSizedA(session.vehicle.systemV) * DRIVE_SIZED_S) / 3600;
  const after = failed.map(({ start, seconds }) => {
    const from = start + seconds;
    return -netChargeAh(analysis.periods, from, from + DRIVE_SIZED_S);
  });
  return {
    count: failed.length,
    lastT,
    isLost,
    isFault: isLost || failed.length >= SEVERAL,
    mayHaveRun: analysis.has.current && after.every((ah) => ah >= leastAh),
    afterAh: total(after, (ah) => ah),
  };
});
