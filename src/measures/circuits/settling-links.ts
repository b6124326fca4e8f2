/**
 * Which slow settlings a circuit goes with. Asked is whether it was on between the key-off's first minute and the time by
 * which the vehicle can be asleep: in that time every settling, quick or slow, is looked at alike, so that a circuit that is
 * on after each key-off, or busy at all times, tells nothing. What remains is how well "on" and "slow" meet. A circuit that
 * is on after quick key-offs too is told by how long: where it goes off just when the vehicle falls asleep, long after
 * key-off, again and again, that is no luck either; nor where it stays on for longer after slow key-offs than after any quick one.
 */

import type { Analysis } from '../../analysis/model.ts';
import { isActive } from '../../analysis/sleep/wakes.ts';
import { type Tiles, tileAt } from '../../analysis/tiles/tiles.ts';
import { meetAtLeast } from '../../battery/counts.ts';
import { median } from '../../battery/statistics.ts';
import type { Channel } from '../../manifest/session.ts';
import { total } from '../spans.ts';
import type { Settling, Settlings } from './settlings.ts';

/** What was on while driving may take this long to go off, s. */
const AFTER_S = 60;

/** How a channel goes with settlings that are slower than the vehicle's usual ones. */
export interface SettlingLink {
  /** Slow settlings in which it was on, and all in which it was logged. */
  readonly slowWith: number;
  readonly slowSeen: number;
  /** The same of the others, which were quick. */
  readonly quickWith: number;
  readonly quickSeen: number;
  /** It is on after each quick key-off and after no slow one, as what says "closed" is: then it goes with them by being off. */
  readonly without: boolean;
  /** Charge of the slow settlings that it goes with, among that of all slow ones seen. */
  readonly chargeShare: number;
  /** How long after the vehicle falls asleep the channel turns off, s (median); negative where it leads; null where it never does. */
  readonly lagS: number | null;
  /** Probability of so good a match by luck. */
  readonly chance: number;
}

/** Channel `c`; null where no slow settling was seen with it logged. */
export function linkToSettlings(
  analysis: Analysis,
  settlings: Settlings,
  c: number,
  channel: Channel,
): SettlingLink | null {
  const { tiles } = analysis;
  const seen = settlings.all
    .filter(({ start }) => !Number.isNaN(tiles.chMax[c][tileAt(tiles, start)]))
    .map((settling) => ({ ...settling, with: isOnIn(tiles, settling, settlings.slowAfterS, c, channel) }));
  const slow = seen.filter((settling) => settling.slow);
  if (slow.length === 0) return null;
  const together = slow.filter((settling) => settling.with);
  const quick = seen.filter((settling) => !settling.slow);
  const quickWith = quick.filter((settling) => settling.with).length;
  const without = quickWith > 0 && quickWith === quick.length && together.length === 0;
  const lags = together.flatMap((settling) => lagOf(tiles, settling, settlings.slowAfterS, c, channel) ?? []);
  return {
    slowWith: together.length,
    slowSeen: slow.length,
    quickWith,
    quickSeen: quick.length,
    without,
    chargeShare: chargeOf(without ? slow : together) / (chargeOf(slow) || 1),
    lagS: lags.length > 0 ? median(lags) : null,
    chance: without
      ? // That it is on could go with them as well.
        Math.min(1, 2 * meetAtLeast(slow.length, slow.length, slow.length, seen.length))
      : quickWith === 0
        ? meetAtLeast(together.length, slow.length, together.length, seen.length)
        : // Two questions are asked of it.
          Math.min(
            1,
            2 * chanceOfEnds(analysis, { slow, quick }, c, channel),
            2 * chanceOfLengths(analysis, { slow, quick, slowAfterS: settlings.slowAfterS }, c, channel),
          ),
  };
}

/**
 * Chance that so many of the slow settlings have the circuit on for longer than all of the quick ones, were it on for any
 * length after any key-off: the exceedances of two samples (Haga 1959/60, from memory), which fall as in an urn.
 */
function chanceOfLengths(
  analysis: Analysis,
  {
    slow,
    quick,
    slowAfterS,
  }: { readonly slow: readonly Settling[]; readonly quick: readonly Settling[]; readonly slowAfterS: number },
  c: number,
  channel: Channel,
): number {
  const lengthOf = (settling: Settling) => onAfterS(analysis, settling, c, channel);
  // What is off before the vehicle can be asleep keeps nothing awake.
  const longestS = quick.reduce((most, settling) => Math.max(most, lengthOf(settling)), slowAfterS);
  const beyond = slow.filter((settling) => lengthOf(settling) > longestS).length;
  return beyond === 0 ? 1 : meetAtLeast(beyond, slow.length, beyond, slow.length + quick.length);
}

/** How long it stays on from a minute after key-off, within the stand, s. */
function onAfterS({ tiles, stands }: Analysis, { start }: Settling, c: number, channel: Channel): number {
  const end = stands.find((stand) => stand.start === start)?.end ?? start;
  let k = tileAt(tiles, start + AFTER_S);
  while (k < tiles.n && tiles.t0[k] < end && isActive(tiles, c, k, channel)) k++;
  return Math.min(end, tiles.t0[Math.min(k, tiles.n - 1)]) - start;
}

function isOnIn(tiles: Tiles, { start }: Settling, untilS: number, c: number, channel: Channel): boolean {
  for (let k = tileAt(tiles, start); k < tiles.n && tiles.t0[k] < start + untilS; k++)
    if (tiles.t0[k] >= start + AFTER_S && isActive(tiles, c, k, channel)) return true;
  return false;
}

/**
 * Chance that a circuit goes off within a minute of so many falls asleep by luck, or as long before as a shutdown usually
 * takes: each time that it goes off lies anywhere from key-off to sleep.
 */
function chanceOfEnds(
  { tiles, ...log }: Analysis,
  { slow, quick }: { readonly slow: readonly Settling[]; readonly quick: readonly Settling[] },
  c: number,
  channel: Channel,
): number {
  const shutdowns = quick.flatMap(({ seconds }) => (seconds === null ? [] : [seconds]));
  const leadsS = shutdowns.length > 0 ? [0, median(shutdowns)] : [0];
  const withinS = Math.max(AFTER_S, 2 * (log.stepsS.parked ?? log.medianStepS));
  let matches = 0;
  let luck = 0;
  let asked = 0;
  for (const { start, seconds } of slow) {
    if (seconds === null) continue;
    asked++;
    let offs = 0;
    let nearestS = Number.POSITIVE_INFINITY;
    for (let k = tileAt(tiles, start) + 1; k < tiles.n && tiles.t0[k] <= start + seconds + withinS; k++) {
      if (isActive(tiles, c, k, channel) || !isActive(tiles, c, k - 1, channel)) continue;
      offs++;
      const beforeS = start + seconds - tiles.t0[k];
      nearestS = Math.min(nearestS, ...leadsS.map((leadS) => Math.abs(beforeS - leadS)));
    }
    if (nearestS <= withinS) matches++;
    luck = Math.max(luck, Math.min(1, (2 * withinS * leadsS.length * Math.max(1, offs)) / seconds));
  }
  return matches === 0 ? 1 : binomialAtLeast(matches, asked, luck);
}

function binomialAtLeast(least: number, of: number, chance: number): number {
  let sum = 0;
  let ways = 1;
  for (let k = 0; k <= of; k++) {
    if (k >= least) sum += ways * chance ** k * (1 - chance) ** (of - k);
    ways = (ways * (of - k)) / (k + 1);
  }
  return Math.min(1, sum);
}

/** From sleep to the nearest turning off, s; null where there is none within reach, or no sleep. */
function lagOf(tiles: Tiles, { start, seconds }: Settling, reachS: number, c: number, channel: Channel): number | null {
  if (seconds === null) return null;
  const asleepAt = start + seconds;
  let nearest: number | null = null;
  for (let k = Math.max(1, tileAt(tiles, asleepAt - reachS)); k < tiles.n && tiles.t0[k] < asleepAt + reachS; k++) {
    if (isActive(tiles, c, k, channel) || !isActive(tiles, c, k - 1, channel)) continue;
    const lag = tiles.t0[k] - asleepAt;
    if (nearest === null || Math.abs(lag) < Math.abs(nearest)) nearest = lag;
  }
  return nearest;
}

const chargeOf = (settlings: readonly Settling[]) => total(settlings, ({ chargeAh }) => chargeAh);
