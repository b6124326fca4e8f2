/**
 * Wakes by their sources. Where two sources wake the vehicle at once it is awake once, and draws the sum of both: what each
 * draws alone is learned from undisturbed wakes, and found again in the sum. A shape is a part of a wake where taking it away
 * leaves the profile calmer by nearly all of the ups and downs that the shape has itself: by chance that does not happen.
 */
import type { Analysis, Wake } from '../../analysis/model.ts';
import { mean } from '../../battery/statistics.ts';
import type { Session } from '../../manifest/session.ts';
import { measure } from '../measure.ts';
import { groupsOf } from './wake-groups.ts';
import { less, middleOf, type Profile, profileOf, variation } from './wake-profile.ts';

/** What one source did in a wake: the whole wake, or a part of it. */
export interface WakePart extends Wake {
  /** Index into the analysis' wakes. */
  readonly wake: number;
}

/** So many wakes alike show the shape of a source; and with fewer steps than these it has none. */
const LEAST_ALIKE = 3;
const LEAST_STEPS = 4;
/** Of a shape's ups and downs, what must go with it; and how far below nothing the rest may fall, of its mean. */
const CALMER = 0.6;
const MOST_BELOW = 0.2;
/** Less than this share of a wake's charge is left over, and no source of its own. */
const LEAST_REST = 0.15;
const MOST_PARTS = 12;
/** More wakes than this only take time. */
const MOST_WAKES = 3000;

interface Shape {
  readonly profile: Profile;
  readonly meanA: number;
  readonly leastA: number;
  readonly variationA: number;
  readonly members: ReadonlySet<number>;
  readonly channels: ReadonlySet<string>;
}

/** In order of time; each wake whole where nothing shows that it is several. */
export const wakeParts = measure((analysis: Analysis, _session: Session): readonly WakePart[] => {
  const { wakes } = analysis;
  const stepS = Math.max(1, analysis.stepsS.awake ?? analysis.medianStepS);
  const shapes = wakes.length > MOST_WAKES ? [] : shapesOf(analysis, stepS);
  return wakes
    .flatMap((wake, k): WakePart[] => {
      const whole = { ...wake, wake: k };
      // A source is not sought in wakes that are alike more often than its own.
      const own = shapes.find(({ members }) => members.has(k));
      const others = shapes.filter((shape) => shape !== own && shape.members.size >= (own?.members.size ?? 0));
      if (others.length === 0) return [whole];
      const profile = profileOf(analysis, wake, stepS);
      return (profile && split(whole, profile, { own, others }, stepS)) || [whole];
    })
    .sort((a, b) => a.start - b.start);
});

function shapesOf(analysis: Analysis, stepS: number): Shape[] {
  const { wakes } = analysis;
  return groupsOf([...wakes.keys()], wakes, analysis.stepsS.parked ?? analysis.medianStepS)
    .filter((group) => group.length >= LEAST_ALIKE)
    .flatMap((group) => {
      const own = group.slice(0, 50).map((k) => wakes[k]);
      const profile = middleOf(own.flatMap((wake) => profileOf(analysis, wake, stepS) ?? []));
      if (profile.length < LEAST_STEPS) return [];
      const meanA = mean([...profile]);
      const leastA = 0.2 * meanA;
      const channels = new Set(
        own
          .flatMap((wake) => wake.channels)
          .filter((one, _, all) => 2 * all.filter((c) => c === one).length > own.length),
      );
      return meanA > 0
        ? [{ profile, meanA, leastA, variationA: variation(profile, leastA), members: new Set(group), channels }]
        : [];
    });
}

interface Sought {
  /** That of the wakes that this one is alike to; it is what is left. */
  readonly own: Shape | undefined;
  readonly others: readonly Shape[];
}

/** Null where none of the shapes is in the wake, or only one and nothing else. */
function split(wake: WakePart, profile: Profile, { own, others }: Sought, stepS: number): WakePart[] | null {
  const found: { readonly shape: Shape; readonly at: number }[] = [];
  let rest = profile;
  for (let best = bestIn(rest, others); best && found.length < MOST_PARTS; best = bestIn(rest, others)) {
    found.push(best);
    rest = less(rest, best.shape.profile, best.at);
  }
  if (found.length === 0) return null;
  const sumOf = (one: Profile) => one.reduce((sum, level) => sum + level, 0);
  const restSum = sumOf(rest);
  const left = restSum >= LEAST_REST * sumOf(profile) ? spanOf(rest) : null;
  if (found.length === 1 && !left) return null;
  const isOwn = (channel: string) =>
    own ? own.channels.has(channel) : !found.some(({ shape }) => shape.channels.has(channel));
  const parts = [
    ...found.map(({ shape, at }) => ({
      from: at,
      steps: shape.profile.length,
      sum: sumOf(shape.profile),
      peakA: Math.max(...shape.profile),
      channels: wake.channels.filter((channel) => shape.channels.has(channel)),
    })),
    ...(left ? [{ ...left, sum: restSum, peakA: Math.max(...rest), channels: wake.channels.filter(isOwn) }] : []),
  ];
  // What the shapes leave open is shared, so that the wake's charge is that of its parts.
  const scale = (wake.chargeAh * 3600) / parts.reduce((sum, part) => sum + part.sum * stepS, 0);
  return parts.map(({ from, steps, sum, peakA, channels }) => ({
    ...wake,
    start: wake.start + from * stepS,
    seconds: steps * stepS,
    peakA,
    meanA: (sum * scale) / steps,
    chargeAh: (sum * stepS * scale) / 3600,
    channels,
  }));
}

/** The shape, and where it begins, that takes most of its own ups and downs with it. */
function bestIn(profile: Profile, shapes: readonly Shape[]): { readonly shape: Shape; readonly at: number } | null {
  let best: { readonly shape: Shape; readonly at: number } | null = null;
  let most = CALMER;
  for (const shape of shapes) {
    const before = variation(profile, shape.leastA);
    for (const at of risesOf(profile, shape)) {
      const rest = less(profile, shape.profile, at);
      if (fallsBelow(rest, shape, at)) continue;
      const calmer = (before - variation(rest, shape.leastA)) / shape.variationA;
      if (calmer > most) [best, most] = [{ shape, at }, calmer];
    }
  }
  return best;
}

/** Steps at which a profile rises by much of a shape's mean, and those beside them. */
function risesOf(profile: Profile, { meanA, profile: { length } }: Shape): number[] {
  const at = new Set<number>();
  for (let j = 0; j + length <= profile.length + 1; j++) {
    const rise = profile[j] - (profile[j - 2] ?? 0);
    if (rise > 0.5 * meanA) for (const near of [j - 1, j]) if (near >= 0) at.add(near);
  }
  return [...at];
}

function fallsBelow(rest: Profile, { meanA, profile }: Shape, at: number): boolean {
  let below = 0;
  for (let j = at; j < at + profile.length && j < rest.length; j++) below += Math.max(0, -rest[j]);
  return below > MOST_BELOW * meanA * profile.length;
}

/** From the first to the last step with much of the rest. */
function spanOf(rest: Profile): { readonly from: number; readonly steps: number } | null {
  const most = Math.max(...rest);
  const much = (level: number) => level > 0.25 * most;
  const from = rest.findIndex(much);
  const to = rest.findLastIndex(much);
  return to - from + 1 >= 2 ? { from, steps: to - from + 1 } : null;
}
