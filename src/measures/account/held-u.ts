/** What is known of a load that stays: it is a difference of two readings of one sensor, so that an offset cancels and a gain error does not. */
import type { Analysis } from '../../analysis/model.ts';
import { accuracyOf } from '../../analysis/uncertain.ts';
import { combine, type Uncertainty, uncertaintyOf } from '../../battery/uncertainty.ts';
import type { Session } from '../../manifest/session.ts';
import { betweenEdges } from '../stands.ts';
import type { HeldLoad } from './held-loads.ts';
import { sleepingLevel } from './sleeping-level.ts';

/** One shutdown against the usual one, at most. Common practice, no source. */
const SHUTDOWN_VARIES = 1.1;

/** Of its mean, A, and of its charge, Ah: that has both its ends besides, each known as the moment of falling asleep is. */
export function heldU(
  load: HeldLoad,
  analysis: Analysis,
  session: Session,
): { readonly meanA: Uncertainty; readonly chargeAh: Uncertainty } {
  const { relative } = accuracyOf('current', session);
  const { resolution, noiseA } = analysis;
  const scatterU = (noiseA ?? 0) / Math.sqrt(Math.max(1, load.seconds / (analysis.stepsS.parked ?? 1)));
  // The shutdown that follows a load is not told from its end, and differs from time to time.
  const shutS = Math.min(SHUTDOWN_VARIES * sleepingLevel(analysis, session).settleS, load.seconds / 2);
  const shutAh = load.until === 'within' ? (load.meanA * shutS) / 3600 : 0;
  const endsAh = (betweenEdges(analysis).u * load.meanA) / 3600;
  return {
    meanA: uncertaintyOf([relative * load.meanA, (shutAh * 3600) / load.seconds, resolution.i / 2], scatterU),
    chargeAh: uncertaintyOf(
      [relative * load.chargeAh, shutAh, (resolution.i / 2) * (load.seconds / 3600)],
      combine((scatterU * load.seconds) / 3600, endsAh),
    ),
  };
}
