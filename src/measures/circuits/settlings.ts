/**
 * Settlings, held against the vehicle's own quick ones: which key-offs it was clearly slower after than it can be, or than
 * the limit allows.
 */
import type { Analysis, Stand } from '../../analysis/model.ts';
import { tilesIn } from '../../analysis/tiles/tiles-in.ts';
import { limitOf } from '../limit.ts';
import { measure } from '../measure.ts';
import { secondsOf, total } from '../spans.ts';
import { SLEEP_WITHIN } from '../stands.ts';

/** The vehicle's usual time to sleep is that of its quicker settlings: up to about three in four may be slow. */
const QUICKER = 0.25;
/** A slow settling takes this many times as long as usual, and this much longer, s. Common practice, no source. */
const TIMES_USUAL = 2;
const LONGER_S = 300;

export interface Settling {
  /** Key-off, s since the epoch. */
  readonly start: number;
  /** From key-off to sleep, s; null where the vehicle did not sleep until the stand ended. */
  readonly seconds: number | null;
  readonly slow: boolean;
  /** Charge that it took until sleep, Ah. */
  readonly chargeAh: number;
}

export interface Settlings {
  /** A settling longer than this is slow, s from key-off. */
  readonly slowAfterS: number;
  /** Those in the log whole, or at least as long as that. */
  readonly all: readonly Settling[];
}

/** Key-offs before the log, and those that a charger or a hole disturbs, are left out. */
export const settlings = measure((analysis, session): Settlings => {
  const limitS = limitOf(SLEEP_WITHIN, session).value;
  const known = analysis.stands.filter((stand) => stand.keyOffInLog);
  const settled = known
    .flatMap(({ timeToSleepS }) => (timeToSleepS === null ? [] : [timeToSleepS]))
    .toSorted((a, b) => a - b);
  const usualS = settled[Math.floor(QUICKER * (settled.length - 1))] ?? limitS;
  const slowAfterS = Math.min(limitS, Math.max(TIMES_USUAL * usualS, usualS + LONGER_S));
  const all = known.flatMap((stand): Settling[] => {
    const seconds = stand.timeToSleepS;
    if (!isUndisturbed(analysis, stand, stand.start + Math.max(slowAfterS, seconds ?? 0))) return [];
    const slow = seconds === null || seconds > slowAfterS;
    return [{ start: stand.start, seconds, slow, chargeAh: chargeOfSettling(analysis, stand) }];
  });
  return { slowAfterS, all };
});

/** Parked, without a hole or anything that charges, from key-off to `until`. */
function isUndisturbed({ periods, topUps }: Analysis, { start, end }: Stand, until: number): boolean {
  if (end < until || topUps.some((span) => span.start < until && span.end > start)) return false;
  return secondsOf(periods, ['settling', 'asleep', 'awake'], start, until) > until - start - 1e-3;
}

function chargeOfSettling(analysis: Analysis, { start, end }: Stand): number {
  const { tiles, periods } = analysis;
  const isIn = ({ start: from }: { start: number }) => from >= start && from < end;
  const first = periods.findIndex(isIn);
  const next = periods.findIndex((period, k) => k >= first && period.kind !== 'settling');
  const until = next < 0 ? end : Math.min(end, periods[next].start);
  const own = tilesIn(analysis, ['settling']).filter((k) => tiles.t0[k] >= start && tiles.t0[k] < until);
  return -total(own, (k) => tiles.netAs[k]) / 3600;
}
