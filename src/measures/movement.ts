/**
 * Whether the draw of a parked vehicle moves: creeps up or down within a stand, or goes with the temperature. Told from means
 * of six hours, in which wakes by a timer come out alike; the vehicle may be asleep in them or not. A load that comes on at
 * once and stays is no creeping: a step must explain it clearly worse than a slope.
 */
import type { Analysis, Span, Stand } from '../analysis/model.ts';
import { tilesWithin } from '../analysis/tiles/tiles-in.ts';
import { levelChange } from '../battery/change.ts';
import { linearFit, mean, quantile, weightedQuantile } from '../battery/statistics.ts';
import { periodsOf } from './account/awake-runs.ts';
import { sleepingLevel } from './account/sleeping-level.ts';
import { limitOf } from './limit.ts';
import { measure } from './measure.ts';
import { mostBy } from './spans.ts';
import { PARKED_DRAW } from './stands.ts';

const BLOCK_S = 6 * 3600;
/** Blocks without which nothing is told: a day and a half of one stand; two days of all. */
const LEAST_IN_STAND = 6;
const LEAST_IN_ALL = 8;
/** Chance below which a movement is told, and least share of the scatter that it explains. */
const MOST_CHANCE = 0.01;
const LEAST_SHARE = 0.6;
/** Of what a slope leaves, a step must leave this many times as much. */
const STEP_WORSE = 1.5;
/** Less movement than this share of the limit is not worth telling. Common practice, no source. */
const WORTH = 0.2;
/** Less span of temperature says nothing, °C. */
const LEAST_SPAN_C = 5;

export interface Creep extends Span {
  /** By the slope, at its begin and end, A. */
  readonly fromA: number;
  readonly toA: number;
  readonly chance: number;
}

export interface Warmth {
  readonly coldC: number;
  readonly warmC: number;
  /** By the slope at those, A. */
  readonly coldA: number;
  readonly warmA: number;
  readonly chance: number;
}

export interface Movement {
  /** In the stand where most of it was seen; null where none creeps. */
  readonly creep: Creep | null;
  readonly warmth: Warmth | null;
}

interface Block {
  readonly t: number;
  readonly drawA: number;
  readonly temperatureC: number;
}

export const movement = measure((analysis, session): Movement => {
  const worthA = WORTH * limitOf(PARKED_DRAW, session).value;
  const { settleS } = sleepingLevel(analysis, session);
  const stands = analysis.stands.map((stand) => ({ stand, blocks: blocksOf(analysis, stand, settleS) }));
  const warmth = warmthOf(
    stands.flatMap(({ blocks }) => blocks),
    worthA,
  );
  const creeps = stands.flatMap(({ stand, blocks }) => creepOf(stand, blocks, worthA) ?? []);
  const creep = mostBy(creeps, ({ fromA, toA }) => Math.abs(toA - fromA)) ?? null;
  // A night and an afternoon of one stand make a slope too.
  return { creep: warmth && creep && warmth.chance < creep.chance ? null : creep, warmth };
});

/** What flows most of the time, in six hours each, after the settling and without what charges. */
function blocksOf(analysis: Analysis, stand: Stand, settleS: number): Block[] {
  const { tiles } = analysis;
  const from = stand.keyOffInLog ? stand.start + settleS : stand.start;
  const fed = [
    ...analysis.topUps,
    ...periodsOf(analysis, stand).filter(({ kind }) => kind === 'on-charger' || kind === 'disconnected'),
  ];
  const blocks: Block[] = [];
  for (let start = from; start + BLOCK_S <= stand.end + 60; start += BLOCK_S) {
    const span = { start, end: start + BLOCK_S };
    if (fed.some((one) => one.start < span.end && one.end > span.start)) continue;
    const inside = tilesWithin(tiles, span).filter((k) => !Number.isNaN(tiles.i[k]) && tiles.iCov[k] > 0);
    const seconds = inside.map((k) => tiles.iCov[k]);
    if (seconds.reduce((sum, s) => sum + s, 0) < BLOCK_S / 2) continue;
    const temperatures = inside.map((k) => tiles.temp[k]).filter((c) => !Number.isNaN(c));
    blocks.push({
      t: start + BLOCK_S / 2,
      drawA: weightedQuantile(
        inside.map((k) => -tiles.i[k]),
        seconds,
        0.5,
      ),
      temperatureC: temperatures.length > 0 ? mean(temperatures) : Number.NaN,
    });
  }
  return blocks;
}

function creepOf(stand: Stand, blocks: readonly Block[], worthA: number): Creep | null {
  if (blocks.length < LEAST_IN_STAND) return null;
  const draws = blocks.map(({ drawA }) => drawA);
  const fit = slope(
    blocks.map(({ t }) => t - stand.start),
    draws,
  );
  const step = levelChange(draws);
  if (!fit || !step || fit.share < LEAST_SHARE || fit.chance > MOST_CHANCE) return null;
  const stepLeft = leftOf(draws, (k) => (k < step.before ? step.meanBefore : step.meanAfter));
  if (stepLeft < STEP_WORSE * fit.left) return null;
  const [first, last] = [blocks[0], blocks.at(-1)];
  if (!first || !last) return null;
  const span = { start: first.t - BLOCK_S / 2, end: last.t + BLOCK_S / 2 };
  const [fromA, toA] = [fit.at(span.start - stand.start), fit.at(span.end - stand.start)];
  return Math.abs(toA - fromA) < worthA ? null : { ...span, fromA, toA, chance: fit.chance };
}

function warmthOf(blocks: readonly Block[], worthA: number): Warmth | null {
  const known = blocks.filter(({ temperatureC }) => !Number.isNaN(temperatureC));
  if (known.length < LEAST_IN_ALL) return null;
  const temperatures = known.map(({ temperatureC }) => temperatureC);
  const [coldC, warmC] = [quantile(temperatures, 0.1), quantile(temperatures, 0.9)];
  const fit = slope(
    temperatures,
    known.map(({ drawA }) => drawA),
  );
  if (!fit || warmC - coldC < LEAST_SPAN_C || fit.share < LEAST_SHARE || fit.chance > MOST_CHANCE) return null;
  const [coldA, warmA] = [fit.at(coldC), fit.at(warmC)];
  return Math.abs(warmA - coldA) < worthA ? null : { coldC, warmC, coldA, warmA, chance: fit.chance };
}

/** `share`: of the scatter that the line explains (r²); `left`: sum of squares that it leaves; `chance`: of so large an r by luck. */
function slope(xs: readonly number[], ys: readonly number[]) {
  const fit = linearFit(xs, ys);
  if (!fit) return null;
  const at = (x: number) => fit.intercept + fit.slope * x;
  const left = leftOf(ys, (k) => at(xs[k] ?? Number.NaN));
  const middle = mean(ys);
  const all = leftOf(ys, () => middle);
  const share = all > 0 ? Math.max(0, 1 - left / all) : 0;
  return { at, left, share, chance: chanceOf(Math.sqrt(share), ys.length) };
}

const leftOf = (ys: readonly number[], at: (k: number) => number) =>
  ys.reduce((sum, y, k) => sum + (y - at(k)) ** 2, 0);

/** Two-sided, by Fisher's z = artanh r with standard deviation 1/√(n − 3); tail of the normal distribution ≤ exp(−z²/2). From memory. */
function chanceOf(r: number, n: number): number {
  const z = Math.atanh(Math.min(r, 1 - 1e-12)) * Math.sqrt(n - 3);
  return Math.min(1, Math.exp(-0.5 * z * z));
}

/** As facts for prose: nulls where nothing moves. */
export function movementFacts({ creep, warmth }: Movement) {
  return {
    creepT: creep?.start ?? null,
    creepFromA: creep?.fromA ?? null,
    creepToA: creep?.toA ?? null,
    creepS: creep ? creep.end - creep.start : null,
    coldC: warmth?.coldC ?? null,
    warmC: warmth?.warmC ?? null,
    coldA: warmth?.coldA ?? null,
    warmA: warmth?.warmA ?? null,
  };
}
