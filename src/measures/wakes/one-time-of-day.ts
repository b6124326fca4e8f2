/** Whether events come at one time of day: then somebody may have set it, such as a heater or a charging timer. */
import { zoneOf } from '../../base/zone.ts';
import type { Session } from '../../manifest/session.ts';

/** So many, within so long of each other by the clock, s: common practice, no source. */
const LEAST_DAYS = 3;
const SAME_TIME_S = 600;
const DAY_S = 86_400;

/** `starts`: s since the epoch, in order. False of fewer days, and where two fall on one day. */
export function atOneTime(starts: readonly number[], { timezone }: Session): boolean {
  const zone = zoneOf(timezone);
  const local = starts.map((t) => t + zone.offsetMs(t * 1000) / 1000);
  const days = new Set(local.map((t) => Math.floor(t / DAY_S)));
  const first = local[0] ?? 0;
  // How far each is from the first one's time of day, either way round midnight.
  const off = local.map((t) => ((((t - first) % DAY_S) + 1.5 * DAY_S) % DAY_S) - DAY_S / 2);
  return days.size >= LEAST_DAYS && days.size === starts.length && Math.max(...off) - Math.min(...off) <= SAME_TIME_S;
}
