/** Groups of wakes that look alike. A group holds the places of its wakes in the list of all, which is in order of time. */

import type { Wake } from '../../analysis/model.ts';
import { median } from '../../battery/statistics.ts';

/** Wakes of one source may differ by these factors (natural logarithm), on top of what the log's step leaves open. */
const ALIKE = { seconds: 0.5, amps: 0.25 };
/** What is smaller than this is alike, A. */
const LEAST_A = 0.001;
/** Among more wakes than this not every one is tried as the middle of a group. */
const MOST_TRIED = 150;

/** Those that lie near to each other in size and length: the densest first, around its middle. `stepS`: between rows. */
export function groupsOf(places: readonly number[], wakes: readonly Wake[], stepS: number): number[][] {
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

/** In as many parts as there are keys, in the order of their first members. */
export function split<K>(places: readonly number[], keyOf: (place: number) => K): number[][] {
  const parts = new Map<K, number[]>();
  for (const k of places) {
    const part = parts.get(keyOf(k));
    if (part) part.push(k);
    else parts.set(keyOf(k), [k]);
  }
  return [...parts.values()];
}

/** In order of time. */
export const sorted = (places: readonly number[]) => places.toSorted((a, b) => a - b);

export function without(places: readonly number[], taken: readonly number[]): number[] {
  const out = new Set(taken);
  return places.filter((k) => !out.has(k));
}
