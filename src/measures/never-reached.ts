/**
 * A charging voltage that stays below its window all along, though the battery takes so much that it cannot be full. A vehicle
 * that lowers the voltage on purpose raises it too: while the battery takes much, in overrun, after starts.
 */
import { tilesWithin } from '../analysis/tiles/tiles-in.ts';
import { judgedDrives } from './drives.ts';
import { measure } from './measure.ts';
import { total } from './spans.ts';

/** In fewer drives, or less time of them together, s, it may be chance. Common practice, no source. */
const LEAST_DRIVES = 3;
const LEAST_S = 7200;
/** A full battery takes less than this part of its capacity an hour, 1/h; A where the capacity is not known. Common practice, no source. */
const TAKES_PER_H = 0.03;
const TAKES_A = 3;
/** At the window for this long in all, s, it was reached. */
const REACHED_S = 30;

/** Mean current of all drives, A; null where the window was reached for a moment, or hardly anything flows in. */
export const neverReachedA = measure((analysis, session): number | null => {
  const drives = judgedDrives(analysis, session);
  const drivenS = total(drives, ({ seconds }) => seconds);
  if (drives.length < LEAST_DRIVES || drivenS < LEAST_S) return null;
  const meanA = total(drives, ({ drive, seconds }) => (drive.meanA ?? 0) * seconds) / drivenS;
  const { capacityAh } = session.battery;
  if (meanA < (capacityAh === undefined ? TAKES_A : TAKES_PER_H * capacityAh)) return null;
  const { tiles } = analysis;
  const reachedS = total(drives, ({ drive, window }) => {
    return total(
      tilesWithin(tiles, drive).filter((k) => tiles.v[k] >= window.minV),
      (k) => tiles.t1[k] - tiles.t0[k],
    );
  });
  return reachedS < REACHED_S ? meanA : null;
});
