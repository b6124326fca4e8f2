/**
 * Whether the draw of a parked vehicle moves: creeps up or down within a stand, or goes with the temperature. Told from means
 * of hours, in which wakes by a timer come out alike; the vehicle may be asleep in them or not. A load that comes on at
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
/** Warmth comes and goes within a day: it is seen in shorter ones, of which neighbours tell the same. */
const WARMTH_BLOCK_S = 2 * 3600;
const BLOCKS_ALIKE = 3;
/** Blocks without which nothing is told: a day and a half of one stand; two days of all. */
const LEAST_IN_STAND = 6;
const LEAST_IN_ALL = 24;
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
  const stands = analysis.stands.map((stand) => ({ stand, blocks: blocksOf(analysis, stand, settleS, BLOCK_S) }));
  const warmth = warmthOf(
    analysis.stands.flatMap((stand) => blocksOf(analysis, stand, settleS, WARMTH_BLOCK_S)),
    worthA,
  );
  const creeps = stands.flatMap(({ stand, blocks }) => creepOf(stand, blocks, worthA) ?? []);
  const creep = mostBy(creeps, ({ fromA, toA }) => Math.abs(toA - fromA)) ?? null;
  // A night and an afternoon of one stand make a slope too.
  return { creep: warmth && creep && warmth.chance < creep.chance ? null : creep, warmth };
});

/** Of what it crept up to, a later draw that is no more than this many times as much is the same. */
const AS_BEFORE = 1.25;

/** True of a draw that a creep before it explains. */
export function goesOn({ end, fromA, toA }: Creep, later: { readonly start: number; readonly drawA: number }): boolean {
  return toA > fromA && later.start >= end - BLOCK_S && later.drawA < AS_BEFORE * toA;
}

/** What flows most of the time in each block, after the settling and without what charges. */
function blocksOf(analysis: Analysis, stand: Stand, settleS: number, blockS: number): Block[] {
  const { tiles } = analysis;
  const from = stand.keyOffInLog ? stand.start + settleS : stand.start;
  const fed = [
    ...analysis.topUps,
    ...periodsOf(analysis, stand).filter(({ kind }) => kind === 'on-charger' || kind === 'disconnected'),
  ];
  const blocks: Block[] = [];
  for (let start = from; start + blockS <= stand.end + 60; start += blockS) {
    const span = { start, end: start + blockS };
    if (fed.some((one) => one.start < span.end && one.end > span.start)) continue;
    const inside = tilesWithin(tiles, span);
    const [draws, seconds] = [new Float64Array(inside.length), new Float64Array(inside.length)];
    const temperatures: number[] = [];
    let known = 0;
    let knownS = 0;
    for (const k of inside) {
      if (Number.isNaN(tiles.i[k]) || !(tiles.iCov[k] > 0)) continue;
      draws[known] = -tiles.i[k];
      seconds[known++] = tiles.iCov[k];
      knownS += tiles.iCov[k];
      if (!Number.isNaN(tiles.temp[k])) temperatures.push(tiles.temp[k]);
    }
    if (knownS < blockS / 2) continue;
    blocks.push({
      t: start + blockS / 2,
      drawA: weightedQuantile(draws.subarray(0, known), seconds, 0.5),
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
  if (warmC - coldC < LEAST_SPAN_C) return null;
  const draws = known.map(({ drawA }) => drawA);
  const fit = slope(temperatures, draws);
  const step = stepAt(known);
  const best = step && step.share > (fit?.share ?? 0) ? step : fit;
  if (!best || best.share < LEAST_SHARE) return null;
  const chance = chanceOf(Math.sqrt(best.share), known.length / BLOCKS_ALIKE);
  const [coldA, warmA] = [Math.max(0, best.at(coldC)), Math.max(0, best.at(warmC))];
  return chance > MOST_CHANCE || Math.abs(warmA - coldA) < worthA ? null : { coldC, warmC, coldA, warmA, chance };
}

/** From one level to another at some temperature: what switches, and does not creep. */
function stepAt(blocks: readonly Block[]) {
  const byWarmth = blocks.toSorted((a, b) => a.temperatureC - b.temperatureC);
  const draws = byWarmth.map(({ drawA }) => drawA);
  const found = levelChange(draws);
  const at = found && byWarmth[found.before]?.temperatureC;
  if (!found || at === null || at === undefined) return null;
  const left = leftOf(draws, (k) => (k < found.before ? found.meanBefore : found.meanAfter));
  const middle = mean(draws);
  const all = leftOf(draws, () => middle);
  return {
    share: all > 0 ? Math.max(0, 1 - left / all) : 0,
    at: (c: number) => (c < at ? found.meanBefore : found.meanAfter),
  };
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
  const z = Math.atanh(Math.min(r, 1 - 1e-12)) * Math.sqrt(Math.max(0, n - 3));
  return Math.min(1, Math.exp(-0.5 * z * z));
}

/** As facts for prose: nulls where nothing moves. */
export function movementFacts({ creep, warmth }: Movement) {
  return {
    creepT: creep?.start ?? null,
    creepFromA: creep?.fromA ?? null,
    creepToA: creep?.toA ?? null,
    creepS: creep ? creep.end - creep.start : null,
    creepsUp: creep !== null && creep.toA > creep.fromA,
    coldC: warmth?.coldC ?? null,
    warmC: warmth?.warmC ?? null,
    coldA: warmth?.coldA ?? null,
    warmA: warmth?.warmA ?? null,
    withWarmth: warmth !== null && warmth.warmA > warmth.coldA,
  };
}
