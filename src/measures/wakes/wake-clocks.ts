/** Clocks among wakes: which wakes each one takes, also where two sources wake the vehicle at once. */

import type { Wake } from '../../analysis/model.ts';
import { median } from '../../battery/statistics.ts';
import { type Clock, findClock } from './periodicity.ts';
import { sorted, split, without } from './wake-groups.ts';

/** Between two wakes the vehicle was asleep for at least this long, s. */
const LEAST_SLEEP_S = 20;
/** A clock is followed over so many missed beats. */
const MOST_BEATS = 12.5;
/** Of a clock's wakes, enough to call it another's. */
const MOSTLY = 0.8;

/** Wakes by their places, in order of time. */
export interface Part {
  readonly group: readonly number[];
  readonly clock: Clock;
}

/**
 * Wakes that look alike may still come from several clocks, or from one and from people: each clock takes its own out of its
 * group, and from all groups what hides one of its beats. What is left of the groups is `loose`. Those not worth a look are
 * not searched.
 */
export function clocksAmong(
  groups: readonly { readonly group: readonly number[]; readonly isWorth: boolean }[],
  wakes: readonly Wake[],
  stepS: number,
): { clocked: Part[]; loose: number[][] } {
  const all = groups.flatMap(({ group }) => group);
  const parts: Part[] = [];
  let open = all;
  for (const { group, isWorth } of groups) {
    for (let still = stillOpen(group, open); isWorth; still = stillOpen(group, open)) {
      const part = takeClock(still, wakes, stepS);
      if (!part) break;
      const filling = without(open, part.group).filter((k) => fillsHole(k, part, wakes));
      parts.push({ ...part, group: sorted([...part.group, ...filling]) });
      open = without(open, parts[parts.length - 1].group);
    }
  }
  const loose = groups.map(({ group }) => stillOpen(group, open)).filter((group) => group.length > 0);
  return { clocked: joinBeats(parts, wakes), loose };
}

function stillOpen(group: readonly number[], open: readonly number[]): number[] {
  const left = new Set(open);
  return sorted(group.filter((k) => left.has(k)));
}

/** Those of a group, in order of time, that keep a clock; null where there is none. */
export function takeClock(group: readonly number[], wakes: readonly Wake[], stepS: number): Part | null {
  const series = split(group, (k) => wakes[k].stand).map((places) => places.map((k) => wakes[k].start));
  const clock = findClock(series, median(group.map((k) => wakes[k].seconds)) + LEAST_SLEEP_S, stepS);
  return clock && { group: clock.members.map((member) => group[member]), clock };
}

/**
 * Two sources at once make one wake that is like neither and begins with the first of them: it belongs to the clock that
 * would otherwise have missed a beat within it.
 */
function fillsHole(k: number, { group, clock }: Part, wakes: readonly Wake[]): boolean {
  const { start, seconds } = wakes[k];
  const { periodS } = clock;
  const jitterS = Math.max(clock.jitterS, 0.005 * periodS);
  const reach = (other: number | undefined) =>
    other !== undefined && Math.abs(wakes[other].start - start) < MOST_BEATS * periodS ? wakes[other].start : null;
  const before = reach(group.findLast((other) => other < k));
  const after = reach(group.find((other) => other > k));
  const known = before ?? after;
  if (known === null) return false;
  // The beat nearest to the middle of the wake.
  const beats = Math.round((start + seconds / 2 - known) / periodS);
  const beat = known + beats * periodS;
  const slackS = 3 * jitterS * Math.sqrt(Math.abs(beats));
  const isWithin = beat > start - slackS && beat < start + seconds + slackS;
  const isFree = (other: number | null) => other === null || Math.round(Math.abs(other - beat) / periodS) >= 1;
  return isWithin && isFree(before) && isFree(after);
}

/** A clock of several beats whose wakes fill the holes of a quicker one is that one, seen through a third source. */
function joinBeats(parts: readonly Part[], wakes: readonly Wake[]): Part[] {
  const whole: Part[] = [];
  for (const part of parts.toSorted((a, b) => b.group.length - a.group.length)) {
    const at = whole.findIndex((other) => {
      const filling = part.group.filter((k) => fillsHole(k, other, wakes)).length;
      return filling >= MOSTLY * part.group.length;
    });
    if (at < 0) whole.push(part);
    else whole[at] = { ...whole[at], group: sorted([...whole[at].group, ...part.group]) };
  }
  return whole;
}
