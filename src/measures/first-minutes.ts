/**
 * Drives that charge only after their first minutes: a belt that slips while it is cold or wet leaves the battery to carry the loads,
 * right after the start, when any regulator puts back what it took. A vehicle that lowers the voltage on purpose does so later
 * as well, which is how the two are told apart. All figures here are common practice, no source.
 */
import type { Analysis } from '../analysis/model.ts';
import { tilesWithin } from '../analysis/tiles/tiles-in.ts';
import { accuracyOf } from '../analysis/uncertain.ts';
import { perTwelveVolt } from '../battery/chemistry.ts';
import { BY_ITSELF_V } from '../battery/fed-voltage.ts';
import { accuracyBounds, expand, uncertaintyOf } from '../battery/uncertainty.ts';
import type { Session } from '../manifest/session.ts';
import { judgedDrives } from './drives.ts';
import { measure } from './measure.ts';
import { mostBy, total } from './spans.ts';

/** The first minutes, without those of a start; and from when on it is over, s into the drive. */
const FIRST_S = [30, 300] as const;
const LATER_S = 600;
/** So long a drive shows both, s. */
const LONG_S = 900;
/** Share of the time that it may be so low: first at least, later at most. */
const FIRST_SHARE = 1 / 3;
const LATER_SHARE = 0.05;
/** Drained by more than this, A; later by less than `LATER_A`. */
const FIRST_A = 3;
const LATER_A = 1;
/** In fewer drives, or in less than half of them, it may be chance. */
const LEAST_DRIVES = 3;

interface Part {
  readonly meanA: number;
  readonly lowShare: number;
}

export interface LateCharging {
  readonly firstDrives: number;
  readonly firstSeen: number;
  /** Of the drive that was drained most: its begin, mean current of its first minutes, and how much of them lay so low. */
  readonly firstT: number;
  readonly firstA: number;
  readonly firstShare: number;
  readonly itselfV: number;
}

/** Null where it is not so in at least half of the drives that are long enough to show it. */
export const lateCharging = measure((analysis: Analysis, session: Session): LateCharging | null => {
  if (session.vehicle.powertrain !== 'combustion') return null;
  const itselfV = BY_ITSELF_V * perTwelveVolt(session.vehicle.systemV);
  const accuracy = accuracyOf('current', session);
  const drives = judgedDrives(analysis, session).filter(({ seconds }) => seconds >= LONG_S);
  const late = drives.flatMap(({ drive: { start, end } }) => {
    const first = partOf(analysis, start + FIRST_S[0], start + FIRST_S[1], itselfV);
    const later = partOf(analysis, start + LATER_S, end, itselfV);
    if (!first || !later) return [];
    const { u, k } = uncertaintyOf(accuracyBounds(accuracy, first.meanA), 0);
    const isFirst = first.lowShare >= FIRST_SHARE && first.meanA + expand(u, k) < -FIRST_A;
    const isOver = later.lowShare <= LATER_SHARE && later.meanA > -LATER_A;
    return isFirst && isOver ? [{ start, ...first }] : [];
  });
  const worst = mostBy(late, ({ meanA }) => -meanA);
  if (!worst || late.length < LEAST_DRIVES || late.length < drives.length / 2) return null;
  return {
    firstDrives: late.length,
    firstSeen: drives.length,
    firstT: worst.start,
    firstA: worst.meanA,
    firstShare: worst.lowShare,
    itselfV,
  };
});

function partOf({ tiles }: Analysis, start: number, end: number, itselfV: number): Part | null {
  const own = tilesWithin(tiles, { start, end }).filter((k) => (tiles.iCov[k] ?? 0) > 0);
  const seconds = total(own, (k) => tiles.iCov[k] ?? 0);
  if (!(seconds > 0)) return null;
  const lowS = total(own, (k) => ((tiles.v[k] ?? Number.NaN) < itselfV ? (tiles.iCov[k] ?? 0) : 0));
  return { meanA: total(own, (k) => tiles.netAs[k] ?? 0) / seconds, lowShare: lowS / seconds };
}
