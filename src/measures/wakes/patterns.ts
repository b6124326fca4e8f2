/**
 * Wakes sorted into patterns: alike in size and length, with the same linked circuits, and with a clock where they keep one.
 * Every wake, or part of one that is of several sources, is in one pattern; those like no other share the last one. In order of what they cost.
 */

import type { Wake } from '../../analysis/model.ts';
import { median } from '../../battery/statistics.ts';
import { circuitLinks, LINKED, type Link } from '../circuits/links.ts';
import { measure } from '../measure.ts';
import { total } from '../spans.ts';
import type { Clock } from './periodicity.ts';
import { clocksAmong, takeClock } from './wake-clocks.ts';
import { groupsOf, sorted, split, without } from './wake-groups.ts';
import { wakeParts } from './wake-parts.ts';

/** A linked circuit belongs to a pattern in most of whose wakes it is on. */
const LINKED_SHARE = 0.8;
/** Smaller groups, as a share of all wakes, are looked at together. */
const WORTH_A_LOOK = 0.02;
/** Of all wakes, this share by one clock. */
const ALMOST_ALL = 0.9;

export interface WakePattern {
  readonly count: number;
  /** Null where the wakes keep no clock, or too few were seen to tell. */
  readonly periodS: number | null;
  /** How much single intervals vary, s (standard deviation); null without a period. */
  readonly jitterS: number | null;
  readonly seconds: number;
  readonly meanA: number;
  /** For each day parked and asleep, wakes included. */
  readonly chargeAhPerDay: number;
  /** Label of the circuit that goes with it by more than chance. */
  readonly channel: string | null;
  /** Indices into the parts of all wakes, see `wake-parts.ts`. */
  readonly parts: readonly number[];
}

export const wakePatterns = measure((analysis, session): readonly WakePattern[] => {
  const seenS = total(analysis.stands, (stand) => stand.asleepS + stand.awakeS);
  const stepS = analysis.stepsS.parked ?? analysis.medianStepS;
  return findPatterns(wakeParts(analysis, session), circuitLinks(analysis, session), seenS, stepS);
});

/**
 * @param seenS time for which wakes could be seen, s: asleep or awake after the first sleep
 * @param stepS between rows while parked
 */
export function findPatterns(
  wakes: readonly Wake[],
  links: readonly Link[],
  seenS: number,
  stepS: number,
): WakePattern[] {
  const linked = links
    .filter(({ chance, match }) => chance <= LINKED.mostChance && match >= LINKED.leastMatch)
    .map((link) => link.channel);
  const tied = (wake: Wake) => wake.channels.filter((channel) => linked.includes(channel)).join('\n');
  const all = wakes.map((_, k) => k);
  const groups = split(all, (k) => tied(wakes[k]))
    .flatMap((set) => {
      // Almost all by one clock: then their sizes say nothing of where they come from.
      const one = takeClock(set, wakes, stepS);
      return one && one.group.length >= ALMOST_ALL * set.length
        ? [one.group, ...groupsOf(without(set, one.group), wakes, stepS)]
        : groupsOf(set, wakes, stepS);
    })
    .sort((a, b) => b.length - a.length);
  const { clocked, loose } = clocksAmong(
    groups.map((group) => ({ group, isWorth: group.length >= WORTH_A_LOOK * wakes.length })),
    wakes,
    stepS,
  );
  // One source may wake the vehicle by the clock and for very different lengths.
  const pooled =
    loose.length > 1 ? clocksAmong([{ group: sorted(loose.flat()), isWorth: true }], wakes, stepS).clocked : [];
  const taken = pooled.flatMap(({ group }) => group);
  const left = loose.map((group) => without(group, taken)).filter((group) => group.length > 0);
  const singles = left.filter((group) => group.length === 1).flat();
  const patterns = [
    ...clocked,
    ...pooled,
    ...left.filter((group) => group.length > 1).map((group) => ({ group, clock: null })),
    ...(singles.length > 0 ? [{ group: sorted(singles), clock: null }] : []),
  ];
  return patterns
    .map(({ group, clock }) => describe(group, clock, wakes, linked, seenS))
    .sort((a, b) => b.chargeAhPerDay - a.chargeAhPerDay);
}

function describe(
  group: readonly number[],
  clock: Clock | null,
  wakes: readonly Wake[],
  linked: readonly string[],
  seenS: number,
): WakePattern {
  const own = group.map((k) => wakes[k]);
  const shares = linked.map((channel) => ({
    channel,
    share: total(own, (wake) => Number(wake.channels.includes(channel))) / own.length,
  }));
  const most = shares.reduce((best, one) => (one.share > best.share ? one : best), { channel: '', share: 0 });
  return {
    count: own.length,
    periodS: clock?.periodS ?? null,
    jitterS: clock?.jitterS ?? null,
    seconds: median(own.map((wake) => wake.seconds)),
    meanA: median(own.map((wake) => wake.meanA)),
    chargeAhPerDay: (total(own, (wake) => wake.chargeAh) * 86_400) / Math.max(seenS, 1),
    channel: most.share >= LINKED_SHARE ? most.channel : null,
    parts: group,
  };
}
