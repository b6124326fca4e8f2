/** Drives in which nothing charged: told from the crank that leads into them and from consumers that stay on. Figures: common practice, no source. */
import { median } from '../../battery/statistics.ts';
import type { RawCrank } from '../cranks/crank-measure.ts';
import { joined, type Tiles, tileAt } from '../tiles/tiles.ts';
import type { FedSpan } from './restless.ts';
import { isRestless, RESTLESS_A, type Restlessness, restlessness } from './restless.ts';

/** From the end of the crank until the generator takes over, s: the drive has begun. */
export const TAKEOVER_S = 25;
/** Draw that only an opened, switched-on vehicle shows, A. */
export const KEY_ON_A = 2;
/** Without charging, consumers that stay on this long (s) after a crank show a running engine: restless, or this many (A). */
const UNCHARGED_S = 180;
const UNCHARGED_A = 15;
/** Rows further apart than this differ also by what is switched in between, s. */
const FAST_S = 3;

/** An engine that runs without charging: after the crank the consumers stay on for minutes, from the battery. */
export function unchargedDrives(
  tiles: Tiles,
  cranks: readonly RawCrank[],
  spans: readonly FedSpan[],
  floor: Restlessness,
): FedSpan[] {
  const found: FedSpan[] = [];
  cranks.forEach((crank, at) => {
    const end = crank.at + crank.seconds;
    const first = tileAt(tiles, end) + 1;
    const covered = (k: number) => [...spans, ...found].some((span) => k >= span.first && k <= span.last);
    if (
      first >= tiles.n ||
      covered(first) ||
      spans.some((s) => tiles.t0[s.first] >= end && tiles.t0[s.first] - end < TAKEOVER_S)
    )
      return;
    const next = cranks[at + 1]?.at ?? Number.POSITIVE_INFINITY;
    const early: number[] = [];
    for (let k = first; k < tiles.n && tiles.t1[k] < end + 40; k++) if (tiles.t0[k] > end + 10) early.push(-tiles.i[k]);
    if (early.length === 0) return;
    const usualA = median(early);
    // A weak generator carries about what the consumers draw: their restlessness alone is left, from row to row of a fast log.
    const rests = (k: number) => !(tiles.iRough[k] > RESTLESS_A) || tiles.t1[k] - tiles.t0[k] > FAST_S;
    const isOff = (k: number) => (usualA >= KEY_ON_A ? -tiles.i[k] < 0.5 * usualA : rests(k));
    let last = first;
    let lowS = 0;
    for (let k = first; k < tiles.n && joined(tiles, k) && tiles.t1[k] < next && !covered(k); k++) {
      lowS = isOff(k) ? lowS + tiles.t1[k] - tiles.t0[k] : 0;
      if (lowS === 0) last = k;
      if (lowS > 15) break;
    }
    const ranS = tiles.t1[last] - end;
    // A fan that runs on after a failed attempt is steady; an engine's consumers are not.
    const runs =
      ranS >= UNCHARGED_S && (usualA >= UNCHARGED_A || isRestless(restlessness(tiles, { first, last }), floor));
    if (runs) found.push({ kind: 'driving', first, last });
  });
  return found;
}
