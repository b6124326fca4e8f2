/**
 * Settlings, held against the vehicle's own quick ones: which key-offs it was clearly slower after than it can be, or than
 * the limit allows.
 */
import type { Parked, PeriodKind } from '../../analysis/model.ts';
import type { Label } from '../../analysis/states/label.ts';
import type { Stand } from '../../analysis/states/stands.ts';
import { joined, type Tiles } from '../../analysis/tiles/tiles.ts';

/** The vehicle's usual time to sleep is that of its quicker settlings: up to about three in four may be slow. */
const QUICKER = 0.25;
/** A slow settling takes this many times as long as usual, and this much longer, s. Common practice, no source. */
const TIMES_USUAL = 2;
const LONGER_S = 300;

export interface Settling {
  /** The tile that begins with key-off. */
  readonly first: number;
  /** From key-off to sleep; infinite where the vehicle did not sleep until the stand ended. */
  readonly seconds: number;
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

/** `limitS`: within which a vehicle must sleep. Key-offs before the log, and those that a charger or a hole disturbs, are left out. */
export function findSettlings(
  tiles: Tiles,
  labels: readonly Label[],
  kinds: readonly PeriodKind[],
  stands: readonly Stand[],
  parked: readonly Parked[],
  limitS: number,
): Settlings {
  const known = stands.flatMap((stand, at) => (stand.keyOffInLog ? [{ stand, seconds: parked[at].timeToSleepS }] : []));
  const settled = known.flatMap(({ seconds }) => (seconds === null ? [] : [seconds])).toSorted((a, b) => a - b);
  const usualS = settled[Math.floor(QUICKER * (settled.length - 1))] ?? limitS;
  const slowAfterS = Math.min(limitS, Math.max(TIMES_USUAL * usualS, usualS + LONGER_S));
  const all = known.flatMap(({ stand, seconds }): Settling[] => {
    const keyOff = tiles.t0[stand.first];
    const seenS = Math.max(slowAfterS, seconds ?? 0);
    if (!isUndisturbed(tiles, labels, stand, keyOff + seenS)) return [];
    const toSleepS = seconds ?? Number.POSITIVE_INFINITY;
    const chargeAh = chargeOfSettling(tiles, kinds, stand);
    return [{ first: stand.first, seconds: toSleepS, slow: toSleepS > slowAfterS, chargeAh }];
  });
  return { slowAfterS, all };
}

/** Parked without a hole from key-off to `until`. */
function isUndisturbed(tiles: Tiles, labels: readonly Label[], stand: Stand, until: number): boolean {
  let k = stand.first;
  while (k <= stand.last && labels[k] === 'parked' && (k === stand.first || joined(tiles, k))) {
    if (tiles.t1[k] >= until) return true;
    k++;
  }
  return false;
}

function chargeOfSettling(tiles: Tiles, kinds: readonly PeriodKind[], { first, last }: Stand): number {
  let chargeAs = 0;
  for (let k = first; k <= last && kinds[k] === 'settling'; k++) chargeAs -= tiles.netAs[k];
  return chargeAs / 3600;
}
