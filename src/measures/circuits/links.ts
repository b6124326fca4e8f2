/**
 * Which monitored circuit goes with the wakes, and which with slow settlings (see `settling-links`). For wakes, what counts is not that a circuit is on while the vehicle is awake (a busy
 * one often is), but that it turns on when wakes begin and off when they end, always by the same lag. How often luck would
 * do as well is found by turning the circuit's times round within each stand by random amounts: that keeps how often,
 * how long and how regularly it is on, and breaks only what it may have to do with the wakes.
 */

import type { Analysis, Stand, Wake } from '../../analysis/model.ts';
import { isActive } from '../../analysis/sleep/wakes.ts';
import { joined, type Tiles, tileAt } from '../../analysis/tiles/tiles.ts';
import { median } from '../../battery/statistics.ts';
import type { Channel } from '../../manifest/session.ts';
import { measure } from '../measure.ts';
import { total } from '../spans.ts';
import { lots } from './lots.ts';
import { linkToSettlings, type SettlingLink } from './settling-links.ts';
import { settlings } from './settlings.ts';

/** A circuit this much before or after a wake may still belong to it, s. */
const REACH_S = 60;
const DRAWS = 1999;
const PLENTY = 40;

/** Times in s from the begin of the stand's first sleep. */
interface Scene {
  readonly spanS: number;
  readonly begins: readonly number[];
  readonly ends: readonly number[];
  /** Of one channel. */
  readonly on: readonly number[];
  readonly off: readonly number[];
}

/** A circuit goes with the wakes where luck would hardly match so well, and where it is the rule. */
export const LINKED = { mostChance: 0.01, leastMatch: 0.5 };

export interface Link {
  readonly channel: string;
  readonly wakesWith: number;
  /** Wakes in which the channel was logged. */
  readonly wakesSeen: number;
  /** Charge of the wakes that it goes with, among those of all wakes seen. */
  readonly chargeShare: number;
  /** Probability of so good a match by luck. */
  readonly chance: number;
  /** How long after a wake begins the channel turns on, s (median); negative where it leads; null where it never does. */
  readonly lagS: number | null;
  /** Share of its switchings, or of the wakes' begins and ends where those are fewer, that match at that lag. */
  readonly match: number;
  /** Null where no settling was slow, or the channel was not logged in them. */
  readonly settlings: SettlingLink | null;
}

/** One for each channel, in the manifest's order. */
export const circuitLinks = measure((analysis, session): readonly Link[] => {
  const { tiles, stands, wakes } = analysis;
  const stepS = analysis.stepsS.parked ?? analysis.medianStepS;
  return session.log.channels.map((channel, c) => {
    const seen = wakes.filter((wake) => isSeen(tiles, c, wake));
    const together = seen.filter((wake) => wake.channels.includes(channel.label));
    const scenes = stands.flatMap((stand, at) => {
      const own = seen.filter((wake) => wake.stand === at);
      return own.length > 0 ? [sceneOf(analysis, stand, own, c, channel)] : [];
    });
    const asIs = matchOf(
      scenes,
      scenes.map(() => 0),
      stepS,
    );
    return {
      channel: channel.label,
      wakesWith: together.length,
      wakesSeen: seen.length,
      chargeShare: chargeOf(together) / (chargeOf(seen) || 1),
      chance: together.length > 0 ? chanceOf(scenes, asIs.count, stepS, c) : 1,
      lagS: asIs.lagS,
      match: matchShare(scenes, asIs.count),
      settlings:
        channel.measures === 'drop' ? null : linkToSettlings(analysis, settlings(analysis, session), c, channel),
    };
  });
});

/**
 * Share of random turns that match at least as well; the true one counts among them, so it is never 0. Where many do, the
 * share is plain before all are drawn (Besag and Clifford 1991, from memory).
 */
function chanceOf(scenes: readonly Scene[], count: number, stepS: number, stream: number): number {
  const draw = lots(7919 * (stream + 1));
  let asGood = 1;
  for (let k = 0; k < DRAWS; k++) {
    const turns = scenes.map((scene) => draw() * scene.spanS);
    if (matchOf(scenes, turns, stepS).count >= count) asGood++;
    if (asGood > PLENTY) return asGood / (k + 2);
  }
  return asGood / (DRAWS + 1);
}

/** Of the circuit's switchings, or of the wakes' begins and ends where those are fewer, the share that match. */
function matchShare(scenes: readonly Scene[], count: number): number {
  const number = (of: (scene: Scene) => readonly number[]) => total(scenes, (scene) => of(scene).length);
  const fewer = Math.min(
    number(({ on, off }) => [...on, ...off]),
    number(({ begins, ends }) => [...begins, ...ends]),
  );
  return fewer > 0 ? Math.min(1, count / fewer) : 0;
}

/** Begins and ends of wakes that the circuit's, turned on by `turns`, keep the same lag to. */
function matchOf(scenes: readonly Scene[], turns: readonly number[], stepS: number) {
  const begins: number[] = [];
  const ends: number[] = [];
  scenes.forEach(({ spanS, begins: from, ends: to, on, off }, k) => {
    for (const t of from) pushLag(begins, on, t - turns[k], spanS);
    for (const t of to) pushLag(ends, off, t - turns[k], spanS);
  });
  // One step at either edge, and a second for the tiles.
  const toleranceS = 2 * stepS + 1;
  const atOnce = (lags: readonly number[]) => {
    const usual = median(lags);
    return lags.filter((lag) => Math.abs(lag - usual) <= toleranceS).length;
  };
  return { count: atOnce(begins) + atOnce(ends), lagS: begins.length > 0 ? median(begins) : null };
}

/** Adds how far the nearest of the sorted `times`, which go round after `spanS`, is from `t`, if that is within reach. */
function pushLag(lags: number[], times: readonly number[], t: number, spanS: number): void {
  if (times.length === 0) return;
  const place = ((t % spanS) + spanS) % spanS;
  let low = 0;
  let high = times.length;
  while (low < high) {
    const mid = (low + high) >> 1;
    if (times[mid] < place) low = mid + 1;
    else high = mid;
  }
  const after = low < times.length ? times[low] - place : times[0] + spanS - place;
  const before = low > 0 ? times[low - 1] - place : times[times.length - 1] - spanS - place;
  const lag = after < -before ? after : before;
  if (Math.abs(lag) <= REACH_S) lags.push(lag);
}

function sceneOf(
  { tiles, periods }: Analysis,
  { start, end }: Stand,
  wakes: readonly Wake[],
  c: number,
  channel: Channel,
): Scene {
  const origin = periods.find((period) => period.kind === 'asleep' && period.start >= start)?.start ?? start;
  const first = tileAt(tiles, origin);
  const last = tileAt(tiles, end) - 1;
  const on: number[] = [];
  const off: number[] = [];
  let was = isActive(tiles, c, first, channel);
  for (let k = first + 1; k <= last; k++) {
    const is = isActive(tiles, c, k, channel);
    // What happened in a hole has no time.
    if (is !== was && joined(tiles, k)) (is ? on : off).push(tiles.t0[k] - origin);
    was = is;
  }
  return {
    spanS: end - origin,
    begins: wakes.map((wake) => wake.start - origin),
    ends: wakes.map((wake) => wake.start + wake.seconds - origin),
    on,
    off,
  };
}

function isSeen(tiles: Tiles, c: number, wake: Wake): boolean {
  for (let k = tileAt(tiles, wake.start); k < tiles.n && tiles.t0[k] < wake.start + wake.seconds; k++)
    if (!Number.isNaN(tiles.chMax[c][k])) return true;
  return false;
}

const chargeOf = (wakes: readonly Wake[]) => total(wakes, (wake) => wake.chargeAh);
