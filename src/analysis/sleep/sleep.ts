/**
 * Where a parked vehicle sleeps. Each stand has a lowest level that it keeps; the vehicle sleeps while its draw stays at
 * that level, provided the level is one that a sleeping vehicle could have: near the lowest of the whole log, and, where
 * it is higher than a healthy vehicle's, kept for long enough after key-off that modules had time to shut down.
 */
import { quantile, robustSd, weightedQuantile, whiteSd } from '../../battery/statistics.ts';
import { combine } from '../../battery/uncertainty.ts';
import type { Pulses } from '../model.ts';
import type { Label } from '../states/label.ts';
import type { StandTiles } from '../states/stands.ts';
import type { Tiles } from '../tiles/tiles.ts';
import { findTrains } from './pulses.ts';

export interface Sleep {
  /** Sleeping level, A (a draw); null where the stand shows none. */
  readonly levelA: number | null;
  /** Per tile from `stand.first`: asleep or not. */
  readonly asleep: Uint8Array;
  readonly pulses: Pulses;
}

/** Modules sleep within minutes to about an hour after key-off: common practice, no source. */
export const SHUTDOWN_S = 3600;
/** Up to this draw a steady level is taken for sleep within minutes, A: twice the usual limit; common practice, no source. */
const USUAL_A = 0.1;
/** Nothing asleep draws more, A: common practice, no source. */
export const MOST_ASLEEP_A = 1.5;
/** With its battery connected every vehicle draws some milliamperes, A: common practice, no source. */
const LEAST_A = 0.003;
/** Less than this into the battery may be a sensor's zero, A. */
const INTO_A = 0.05;
/** The level follows what creeps within this time, s. */
const CREEPS_S = 3 * 3600;
const MIN_FLAT_S = 180;
const LONG_FLAT_S = 1200;
/** Asleep for the first time only after staying so for this long; again after a wake, s. */
const FIRST_DWELL_S = 60;
const AGAIN_DWELL_S = 20;
/** So many tiles of a stand tell its noise. */
const MOST_LOOKED_AT = 20_000;
/** Quartile of the standard normal distribution: the middle of one half of it. */
const QUARTILE = 0.6745;

interface Kept {
  readonly levelA: number;
  /** Time at that level, and from the stand's begin to the last of it, s. */
  readonly flatS: number;
  readonly untilS: number;
}

interface Level extends Kept {
  readonly noiseA: number;
}

export function findSleep(tiles: Tiles, labels: readonly Label[], stands: readonly StandTiles[]): Sleep[] {
  const levels = stands.map((stand) => lowestLevel(tiles, labels, stand));
  const proven = levels.filter((level) => level !== null && isProven(level));
  const provenA = proven.map((level) => level?.levelA ?? 0);
  // A zero that is off is off in every stand: where one draws, what flows in in another feeds it.
  const leastA = provenA.some((levelA) => levelA > -INTO_A) ? -INTO_A : Number.NEGATIVE_INFINITY;
  const lowestA = proven.length ? Math.min(...provenA.filter((levelA) => levelA > leastA)) : null;
  /** Where the stand before ended, A: a draw that grows from stand to stand is still that of sleep. */
  let lastA = lowestA ?? 0;
  return stands.map((stand, at) => {
    const level = levels[at];
    const asleep = new Uint8Array(stand.last - stand.first + 1);
    if (
      !level ||
      lowestA === null ||
      level.levelA <= leastA ||
      !isSleep(level, Math.max(lowestA, Math.min(lastA, MOST_ASLEEP_A)))
    )
      return { levelA: null, asleep, pulses: NO_PULSES };
    const { pulses, endA } = markAsleep(tiles, labels, stand, level, asleep);
    lastA = endA;
    return { levelA: asleep.includes(1) ? level.levelA : null, asleep, pulses };
  });
}

const isProven = (level: Kept) =>
  level.levelA <= MOST_ASLEEP_A &&
  (level.levelA <= USUAL_A
    ? level.flatS >= MIN_FLAT_S
    : level.flatS >= LONG_FLAT_S && level.untilS >= SHUTDOWN_S + LONG_FLAT_S / 2);

/** Most that one vehicle's draw asleep may lie above its lowest, A. Common practice, no source. */
const mostAsleepA = (lowestA: number) => lowestA + Math.max(0.04, 0.6 * Math.abs(lowestA));

const isSleep = (level: Kept, lowestA: number) => level.flatS >= FIRST_DWELL_S && level.levelA <= mostAsleepA(lowestA);

/**
 * The level of the lowest tenth of the time; or one far below it, where the vehicle slept for a small part of the stand.
 * No current at all is none: then somebody took a cable off for a while.
 */
function lowestLevel(tiles: Tiles, labels: readonly Label[], stand: StandTiles): Level | null {
  const minutes = minutesOf(tiles, labels, stand);
  const totalS = minutes.seconds.reduce((sum, s) => sum + s, 0);
  const drawn = drawing(minutes);
  // What flows in for a part of the time is no draw, and no sleep.
  const usual = levelAt(drawn.draws.length > minutes.draws.length / 3 ? drawn : minutes, 0.1);
  const lower = levelAt(drawn, Math.min(0.1, LONG_FLAT_S / totalS));
  const isFarBelow =
    lower && usual && isProven(lower) && lower.levelA > LEAST_A && usual.levelA > mostAsleepA(lower.levelA);
  const level = isFarBelow ? lower : usual;
  return level && { ...level, noiseA: tileNoise(tiles, labels, stand, level.levelA) };
}

interface Minutes {
  readonly draws: number[];
  readonly seconds: number[];
  /** From the stand's begin to the end of each, s. */
  readonly ends: number[];
}

function minutesOf(tiles: Tiles, labels: readonly Label[], stand: StandTiles): Minutes {
  const draws: number[] = [];
  const seconds: number[] = [];
  const ends: number[] = [];
  let charge = 0;
  let covered = 0;
  for (let k = stand.first; k <= stand.last; k++) {
    if (labels[k] === 'parked' && tiles.iCov[k] > 0) {
      charge -= tiles.netAs[k];
      covered += tiles.iCov[k];
    }
    if (covered >= 60 || (k === stand.last && covered >= 20)) {
      draws.push(charge / covered);
      seconds.push(covered);
      ends.push(tiles.t1[k] - tiles.t0[stand.first]);
      charge = 0;
      covered = 0;
    }
  }
  return { draws, seconds, ends };
}

/** Without the minutes in which a charger came or went. */
function drawing({ draws, seconds, ends }: Minutes): Minutes {
  const keep = draws.map((draw) => draw > -INTO_A);
  const kept = (column: number[]) => column.filter((_, j) => keep[j]);
  return { draws: kept(draws), seconds: kept(seconds), ends: kept(ends) };
}

/** The level kept around quantile `p` of the time. */
function levelAt({ draws, seconds, ends }: Minutes, p: number): Kept | null {
  if (draws.length === 0) return null;
  let levelA = weightedQuantile(draws, seconds, p);
  let near: number[] = [];
  for (let round = 0; round < 3; round++) {
    const reach = Math.max(0.015, 0.15 * Math.abs(levelA), 3 * spread(draws, near));
    near = draws.map((_, j) => j).filter((j) => Math.abs(draws[j] - levelA) <= reach);
    levelA = weightedQuantile(
      near.map((j) => draws[j]),
      near.map((j) => seconds[j]),
      0.5,
    );
  }
  return {
    levelA,
    flatS: near.reduce((sum, j) => sum + seconds[j], 0),
    untilS: ends[near[near.length - 1]],
  };
}

const spread = (draws: readonly number[], near: readonly number[]) =>
  near.length > 4 ? robustSd(near.map((j) => draws[j])) : 0;

/**
 * Scatter about the level of tiles as they were built, A: what a wake must stand out of. Neighbours were merged because they are alike,
 * and the mean of many scatters less than each: a merged tile counts for as many as it holds, with the scatter that its readings had.
 */
function tileNoise(tiles: Tiles, labels: readonly Label[], stand: StandTiles, levelA: number): number {
  const all: number[] = [];
  let held = 0;
  for (let k = stand.first; k <= stand.last; k++) held += tilesHeld(tiles, k);
  const stride = Math.max(1, held / MOST_LOOKED_AT);
  // The first counts.
  let due = stride;
  for (let k = stand.first; k <= stand.last; k++) {
    const d = -tiles.i[k] - levelA;
    if (labels[k] !== 'parked' || Number.isNaN(d)) continue;
    const count = tilesHeld(tiles, k);
    const off = count < 2 ? d : Math.sign(d) * combine(d, QUARTILE * withinA(tiles, k, count));
    for (due += count; due > stride; due -= stride) all.push(off);
  }
  // What draws more than asleep may be a wake; what seems to draw less is the sensor's noise, half of it.
  const below = all.filter((d) => d < 0);
  const belowA = below.length > 0 ? quantile(below, 0.5) / -QUARTILE : 0;
  const reach = Math.max(0.1, 0.5 * Math.abs(levelA), 3 * belowA);
  const off = all.filter((d) => Math.abs(d) < reach);
  return off.length ? Math.max(robustSd(off), (quantile(off, 0.75) - quantile(off, 0.25)) / 1.349) : 0;
}

/** How many tiles as they were built lie in one: each of a second, or of one step where rows are further apart. */
function tilesHeld(tiles: Tiles, k: number): number {
  const seconds = tiles.t1[k] - tiles.t0[k];
  return Math.max(1, Math.min(seconds, tiles.rows[k]));
}

/** Scatter of `count` tiles within one, by how its readings change, A. */
function withinA(tiles: Tiles, k: number, count: number): number {
  return whiteSd(tiles.iRough[k] || 0) * Math.sqrt(Math.max(0, 1 - 1 / count) / Math.max(1, tiles.rows[k] / count));
}

const NO_PULSES: Pulses = { seen: 0, chargeAs: 0 };

/** Hysteresis: a wake must rise well out of the level's noise, and is over when back near it for a while. */
function markAsleep(
  tiles: Tiles,
  labels: readonly Label[],
  stand: StandTiles,
  level: Level,
  asleep: Uint8Array,
): { pulses: Pulses; endA: number } {
  const size = Math.abs(level.levelA);
  const wakesBy = Math.max(0.02, 0.15 * size, 6 * level.noiseA);
  const calmBy = Math.max(0.012, 0.09 * size, 4 * level.noiseA);
  const calmA = level.levelA + calmBy;
  const drawAt = (k: number) => (labels[k] === 'parked' ? -tiles.i[k] : Number.NaN);
  const pulsing = new Uint8Array(asleep.length);
  const found = { ...NO_PULSES };
  for (const { pulses, restS, drawA } of findTrains(tiles, [stand.first, stand.last], drawAt, calmA)) {
    // Kept up for longer than a shutdown takes, and as little as sleep: then they are a part of sleep.
    if (restS < SHUTDOWN_S || drawA > mostAsleepA(level.levelA)) continue;
    let [pulseAs, pulseS] = [0, 0];
    for (const { first, last } of pulses) {
      pulsing.fill(1, first - stand.first, last + 1 - stand.first);
      for (let k = first; k <= last; k++) pulseAs += drawAt(k) * (tiles.t1[k] - tiles.t0[k]);
      pulseS += tiles.t1[last] - tiles.t0[first];
    }
    // The level is that of whole minutes, with pulses in it; what flows between them is less.
    const betweenA = restS > pulseS ? (drawA * restS - pulseAs) / (restS - pulseS) : level.levelA;
    found.chargeAs += pulseAs - betweenA * pulseS;
    found.seen += pulses.length;
  }
  let sleeping = false;
  let slept = false;
  let since = -1;
  let calmS = 0;
  /** What creeps for hours (a leak that grows) takes the level along; it never sinks below the stand's. */
  let nowA = level.levelA;
  for (let k = stand.first; k <= stand.last; k++) {
    const at = k - stand.first;
    const drawA = pulsing[at] ? level.levelA : drawAt(k);
    if (Number.isNaN(drawA)) {
      // A charger or a loose cable wakes nothing that we can see; after it sleep must be shown anew.
      sleeping = false;
      since = -1;
      calmS = 0;
      continue;
    }
    if (sleeping) {
      if (drawA > nowA + wakesBy) sleeping = false;
      else {
        asleep[at] = 1;
        const share = Math.min(1, (tiles.t1[k] - tiles.t0[k]) / CREEPS_S);
        nowA = Math.max(level.levelA, nowA + share * (drawA - nowA));
      }
      since = -1;
      calmS = 0;
    } else if (drawA <= nowA + calmBy) {
      if (since < 0) since = at;
      calmS += tiles.t1[k] - tiles.t0[k];
      if (calmS >= (slept ? AGAIN_DWELL_S : FIRST_DWELL_S)) {
        asleep.fill(1, since, at + 1);
        sleeping = true;
        slept = true;
      }
    } else {
      since = -1;
      calmS = 0;
    }
  }
  return { pulses: found, endA: nowA };
}
