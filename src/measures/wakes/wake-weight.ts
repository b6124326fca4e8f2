/**
 * What the wakes weigh beside the limit: they are at fault where they alone draw more than it on the mean, or bring the mean over it
 * while the draw asleep keeps it. Where the draw asleep is over it anyway and the wakes add little, the fault is not theirs.
 */
import type { Measured } from '../../analysis/model.ts';
import { decide } from '../../battery/uncertainty.ts';
import { type CheckLimit, limitOf } from '../limit.ts';
import { measure } from '../measure.ts';
import { expandedU } from '../sensor.ts';
import { PARKED_DRAW } from '../stands.ts';
import { type WakeDraw, wakeDraw } from './wake-draw.ts';

/** With less time asleep than this a log says little of wakes, s: common practice, no source. */
const ENOUGH_SEEN_S = 6 * 3600;
/** Wakes that add less than this share of the limit are never at fault; more than the other is worth watching. Common practice, no source. */
const LITTLE = 0.2;
const MUCH = 0.5;

export type WakeWeight = 'at-fault' | 'much' | 'little' | 'open' | 'reads-charging';

/** Null where too little sleep was seen. */
export const wakeWeight = measure((analysis, session): WakeWeight | null => {
  const draw = wakeDraw(analysis, session);
  if (!draw || draw.seenS < ENOUGH_SEEN_S) return null;
  return weigh(draw, limitOf(PARKED_DRAW, session));
});

function weigh({ sleepA, wakesA, meanA }: WakeDraw, limit: CheckLimit): WakeWeight {
  const against = (draw: Measured, share = 1) =>
    decide({ value: draw.value, U: expandedU(draw), limit: share * limit.value, side: 'max' });
  if (meanA.value + expandedU(meanA) < 0) return 'reads-charging';
  if (against(wakesA) === 'beyond') return 'at-fault';
  if (against(wakesA, LITTLE) === 'within') return 'little';
  const mean = against(meanA);
  const asleep = against(sleepA);
  if (mean === 'beyond' && asleep === 'within' && against(wakesA, LITTLE) === 'beyond') return 'at-fault';
  if (mean === 'within' || asleep === 'beyond') return against(wakesA, MUCH) === 'beyond' ? 'much' : 'little';
  return 'open';
}
