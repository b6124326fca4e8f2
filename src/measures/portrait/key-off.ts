/**
 * When the way to sleep begins. The reading of states may count the first seconds of it, with fans and lamps still on, to the drive;
 * but what fed the battery has ended by then, and a vehicle whose regulator never pauses is switched off with it.
 */
import type { Analysis, Stand } from '../../analysis/model.ts';
import { joined, tileAt } from '../../analysis/tiles/tiles.ts';
import { perTwelveVolt } from '../../battery/chemistry.ts';
import type { Session } from '../../manifest/session.ts';
import { measure } from '../measure.ts';

/** Longest that is looked back, s. */
const BACK_S = 120;
/** Draw with which nothing feeds, A, and how far below the drive's usual voltage, V. */
const DRAW_A = 0.15;
const BELOW_V = 0.3;

/** s since the epoch, for each stand; null where its key-off is not in the log. */
export const keyOffs = measure((analysis, session): readonly (number | null)[] =>
  analysis.stands.map((stand) => (stand.keyOffInLog ? sourceEnd(analysis, session, stand) : null)),
);

function sourceEnd({ tiles, drives }: Analysis, session: Session, { start }: Stand): number {
  const drive = drives.findLast(({ end }) => end <= start + 1e-6);
  if (!drive || start - drive.end > 1) return start;
  const mostV = drive.voltsMedian - BELOW_V * perTwelveVolt(session.vehicle.systemV);
  let at = start;
  for (let k = Math.min(tileAt(tiles, start - 1e-6), tiles.n - 1); k >= 0 && at > drive.start; k--) {
    const t0 = tiles.t0[k] ?? 0;
    if (t0 >= start) continue;
    const isFed = !(-(tiles.i[k] ?? 0) > DRAW_A && (tiles.v[k] ?? 0) < mostV);
    if (isFed || start - t0 > BACK_S || !joined(tiles, k + 1)) break;
    at = t0;
  }
  return start - at > BACK_S ? start : at;
}
