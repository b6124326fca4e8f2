/** The draw of one wake above the sleeping level, at even steps of time; and how a known shape is found in it. */
import type { Analysis, Wake } from '../../analysis/model.ts';
import { tilesWithin } from '../../analysis/tiles/tiles-in.ts';

/** A, one for each step of `stepS` from the wake's begin. */
export type Profile = Float64Array;

/** A wake with more steps is left whole. */
const MOST_STEPS = 4000;

/** Null where the wake is too long, or has no reading of current. */
export function profileOf({ tiles }: Analysis, wake: Wake, stepS: number): Profile | null {
  const n = Math.max(1, Math.round(wake.seconds / stepS));
  if (n > MOST_STEPS) return null;
  const charge = new Float64Array(n);
  const seconds = new Float64Array(n);
  let [outAs, coveredS] = [0, 0];
  for (const k of tilesWithin(tiles, { start: wake.start, end: wake.start + wake.seconds + 1e-6 })) {
    if (!(tiles.iCov[k] > 0)) continue;
    outAs -= tiles.netAs[k];
    coveredS += tiles.iCov[k];
    const [from, to] = [(tiles.t0[k] - wake.start) / stepS, (tiles.t1[k] - wake.start) / stepS];
    for (let j = Math.max(0, Math.floor(from)); j < Math.min(n, Math.ceil(to)); j++) {
      const share = Math.max(0, Math.min(to, j + 1) - Math.max(from, j));
      charge[j] -= tiles.i[k] * share;
      seconds[j] += share;
    }
  }
  if (!(coveredS > 0)) return null;
  const sleepA = (outAs - wake.chargeAh * 3600) / coveredS;
  return charge.map((drawn, j) => (seconds[j] > 0 ? drawn / seconds[j] - sleepA : 0));
}

/** How far a profile goes up and down in all, with nothing before and after it, A; changes below `leastA` are noise. */
export function variation(profile: Profile, leastA: number): number {
  let sum = 0;
  let held = 0;
  for (let j = 0; j <= profile.length; j++) {
    const level = profile[j] ?? 0;
    if (Math.abs(level - held) < leastA && j < profile.length) continue;
    sum += Math.abs(level - held);
    held = level;
  }
  return sum;
}

/** The profile without a shape that begins at step `at`. */
export function less(profile: Profile, shape: Profile, at: number): Profile {
  return profile.map((level, j) => level - (shape[j - at] ?? 0));
}

/** The middle of several profiles, step by step, as long as the middle one of them. */
export function middleOf(profiles: readonly Profile[]): Profile {
  const lengths = profiles.map(({ length }) => length).toSorted((a, b) => a - b);
  const shape = new Float64Array(lengths[lengths.length >> 1] ?? 0);
  for (let j = 0; j < shape.length; j++) {
    const levels = profiles.flatMap((profile) => (j < profile.length ? [profile[j]] : [])).toSorted((a, b) => a - b);
    shape[j] = levels[levels.length >> 1] ?? 0;
  }
  return shape;
}
