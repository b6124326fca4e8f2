/**
 * A charging voltage that never rises to where a battery is filled, though in some drive it takes so much that it cannot be full.
 * A vehicle that lowers the voltage on purpose raises it too: while the battery takes much, in overrun, after starts.
 */
import { tilesWithin } from '../analysis/tiles/tiles-in.ts';
import { perTwelveVolt } from '../battery/chemistry.ts';
import { FED_V } from '../battery/fed-voltage.ts';
import { judgedDrives } from './drives.ts';
import { measure } from './measure.ts';
import { total } from './spans.ts';

/** In fewer drives, or less time of them together, s, it may be chance. Common practice, no source. */
const LEAST_DRIVES = 3;
const LEAST_S = 7200;
/** A full battery takes less than this part of its capacity an hour, 1/h; A where the capacity is not known. Common practice, no source. */
const TAKES_PER_H = 0.03;
const TAKES_A = 3;
/** Above what a battery gives by itself for so long in all, s, it was filled. Common practice, no source. */
const FILLS_S = 30;

/** Mean current of the drive with the largest, A; null where a filling voltage was reached, or hardly anything flowed in. */
export const neverReachedA = measure((analysis, session): number | null => {
  const drives = judgedDrives(analysis, session);
  if (drives.length < LEAST_DRIVES || total(drives, ({ seconds }) => seconds) < LEAST_S) return null;
  const mostA = drives.reduce((most, { drive }) => Math.max(most, drive.meanA ?? 0), 0);
  const { capacityAh } = session.battery;
  if (mostA < (capacityAh === undefined ? TAKES_A : TAKES_PER_H * capacityAh)) return null;
  return isFilled(analysis, session) ? null : mostA;
});

/** In some drives of five minutes and more the voltage was where it fills a battery, for half a minute in all. */
export const isFilled = measure((analysis, session): boolean => {
  const { tiles } = analysis;
  const fillsV = FED_V * perTwelveVolt(session.vehicle.systemV);
  const filledS = total(judgedDrives(analysis, session), ({ drive }) =>
    total(
      tilesWithin(tiles, drive).filter((k) => tiles.v[k] >= fillsV),
      (k) => tiles.t1[k] - tiles.t0[k],
    ),
  );
  return filledS >= FILLS_S;
});
