/**
 * Wakes sorted into patterns: alike in size and length, with the same linked circuits, and with a clock where they keep one.
 * Every wake is in one pattern; those like no other share the last one. In order of what they cost.
 */
import { median } from '../battery/statistics.ts';
import type { Link, Wake, WakePattern } from './analysis.ts';
import { LINKED } from './links.ts';
import { type Clock, findClock } from './periodicity.ts';

/** Wakes of one source may differ by these factors (natural logarithm), on top of what the log's step leaves open. */
const ALIKE = { seconds: 0.5, amps: 0.25 };
/** What is smaller than this is alike, A. */
const LEAST_A = 0.001;
/** Between two wakes the vehicle was asleep for at least this long, s. */
const LEAST_SLEEP_S = 20;
/** A linked circuit belongs to a pattern in most of whose wakes it is on. */
const LINKED_SHARE = 0.8;
/** In a log with more wakes than this not every one is tried as the middle of a group. */
const MOST_TRIED = 150;
/** Smaller groups, as a share of all wakes, are looked at together. */
const WORTH_A_LOOK = 0.02;
/** Of a clock's wakes, enough to call it another's. */
const MOSTLY = 0.8;
/** A clock is followed over so many missed beats. */
const MOST_BEATS = 12.5;
/** Of all wakes, this share by one clock. */
const ALMOST_ALL = 0.9;

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
    .filter(({ chance, match }) => chance <= LINKED.mostChance && (match ?? 1) >= LINKED.leastMatch)
    .map((link) => link.channel);
  const tied = (wake: Wake) => wake.channels.filter((channel) => linked.includes(channel)).join('\n');
  const all = wakes.map((_, k) => k);
  const groups = split(all, (k) => tied(wakes[k]))
    .flatMap((set) => {
      // Almost all by one clock: then their sizes say nothing of where they come from.
      const one = takeClock(set, wakes);
      return one && one.group.length >= ALMOST_ALL * set.length
        ? [one.group, ...groupsOf(without(set, one.group), wakes, stepS)]
        : groupsOf(set, wakes, stepS);
    })
    .sort((a, b) => b.length - a.length);
  const parts: Part[] = [];
  let open = all;
  for (const group of groups) {
    const still = sorted(group.filter((k) => open.includes(k)));
    const isWorth = group.length >= WORTH_A_LOOK * wakes.length;
    for (const part of isWorth ? partsOf(still, wakes) : [{ group: still, clock: null }]) {
      const filling = part.clock ? without(open, part.group).filter((k) => fillsHole(k, part, wakes)) : [];
      parts.push({ ...part, group: sorted([...part.group, ...filling]) });
      open = without(open, parts[parts.length - 1].group);
    }
  }
  const keeping = joinBeats(
    parts.filter(({ clock }) => clock !== null),
    wakes,
  );
  const loose = parts.filter(({ clock }) => clock === null).map(({ group }) => group);
  // One source may wake the vehicle by the clock and for very different lengths.
  const pooled = loose.length > 1 ? partsOf(sorted(loose.flat()), wakes).filter(({ clock }) => clock !== null) : [];
  const taken = pooled.flatMap(({ group }) => group);
  const left = loose.map((group) => without(group, taken)).filter((group) => group.length > 0);
  const singles = left.filter((group) => group.length === 1).flat();
  const patterns = [
    ...keeping,
    ...pooled,
    ...left.filter((group) => group.length > 1).map((group) => ({ group, clock: null })),
    ...(singles.length > 0 ? [{ group: sorted(singles), clock: null }] : []),
  ];
  return patterns
    .map(({ group, clock }) => describe(group, clock, wakes, linked, seenS))
    .sort((a, b) => b.chargeAhPerDay - a.chargeAhPerDay);
}

/** In as many parts as there are keys, in the order of their first members. */
function split<K>(places: readonly number[], keyOf: (place: number) => K): number[][] {
  const parts = new Map<K, number[]>();
  for (const k of places) {
    const part = parts.get(keyOf(k));
    if (part) part.push(k);
    else parts.set(keyOf(k), [k]);
  }
  return [...parts.values()];
}

const sorted = (places: readonly number[]) => places.toSorted((a, b) => a - b);

/** Groups of wakes that lie near to each other in size and length: the densest first, around its middle. */
function groupsOf(places: readonly number[], wakes: readonly Wake[], stepS: number): number[][] {
  let left = places;
  const groups: number[][] = [];
  while (left.length > 0) {
    const stride = Math.ceil(left.length / MOST_TRIED);
    const densest = left
      .filter((_, place) => place % stride === 0)
      .map((k) => left.filter((other) => isAlike(wakes[k], wakes[other], stepS)))
      .reduce((best, one) => (one.length > best.length ? one : best));
    const middle = {
      seconds: median(densest.map((k) => wakes[k].seconds)),
      meanA: median(densest.map((k) => wakes[k].meanA)),
    };
    const around = left.filter((k) => isAlike(wakes[k], middle, stepS));
    const group = around.length >= densest.length ? around : densest;
    groups.push(group);
    left = left.filter((k) => !group.includes(k));
  }
  return groups;
}

type Size = Pick<Wake, 'seconds' | 'meanA'>;

function isAlike(a: Size, b: Size, stepS: number): boolean {
  // Begin and end are each known to one step.
  const open = stepS / Math.min(a.seconds, b.seconds);
  const [ampsA, ampsB] = [Math.max(a.meanA, LEAST_A), Math.max(b.meanA, LEAST_A)];
  return (
    Math.abs(Math.log(a.seconds / b.seconds)) <= ALIKE.seconds + 2 * open &&
    Math.abs(Math.log(ampsA / ampsB)) <= ALIKE.amps + open
  );
}

interface Part {
  readonly group: readonly number[];
  readonly clock: Clock | null;
}

/** Wakes that look alike may still come from several clocks, or from one and from people: each clock takes its own out. */
function partsOf(group: readonly number[], wakes: readonly Wake[]): Part[] {
  if (group.length === 0) return [];
  const part = takeClock(group, wakes);
  return part ? [part, ...partsOf(without(group, part.group), wakes)] : [{ group, clock: null }];
}

/** Those of a group, in order of time, that keep a clock; null where there is none. */
function takeClock(group: readonly number[], wakes: readonly Wake[]): Part | null {
  const series = split(group, (k) => wakes[k].parked).map((places) => places.map((k) => wakes[k].start));
  const clock = findClock(series, median(group.map((k) => wakes[k].seconds)) + LEAST_SLEEP_S);
  return clock && { group: clock.members.map((member) => group[member]), clock };
}

/**
 * Two sources at once make one wake that is like neither and begins with the first of them: it belongs to the clock that
 * would otherwise have missed a beat within it.
 */
function fillsHole(k: number, { group, clock }: Part, wakes: readonly Wake[]): boolean {
  if (!clock) return false;
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

function without(places: readonly number[], taken: readonly number[]): number[] {
  const out = new Set(taken);
  return places.filter((k) => !out.has(k));
}

function describe(
  group: readonly number[],
  clock: Clock | null,
  wakes: readonly Wake[],
  linked: readonly string[],
  seenS: number,
): WakePattern {
  const own = group.map((k) => wakes[k]);
  const total = (of: (wake: Wake) => number) => own.reduce((sum, wake) => sum + of(wake), 0);
  const shares = linked.map((channel) => ({
    channel,
    share: total((w) => Number(w.channels.includes(channel))) / own.length,
  }));
  const most = shares.reduce((best, one) => (one.share > best.share ? one : best), { channel: '', share: 0 });
  return {
    count: own.length,
    periodS: clock?.periodS ?? null,
    jitterS: clock?.jitterS ?? null,
    seconds: median(own.map((wake) => wake.seconds)),
    meanA: (total((wake) => wake.chargeAh) * 3600) / total((wake) => wake.seconds),
    chargeAhPerDay: (total((wake) => wake.chargeAh) * 86_400) / Math.max(seenS, 1),
    channel: most.share >= LINKED_SHARE ? most.channel : null,
    wakes: group,
  };
}
