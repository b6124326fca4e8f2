/**
 * Sun on a parked vehicle. A panel carries a part of what is drawn, or more: the draw sinks smoothly below the level that it
 * keeps by night, and comes back to it. That time is fed from outside, though no current need flow into the battery; counted as sleep
 * it would hide the vehicle's own draw. Figures are common practice, no source.
 */
import { median, quantile } from '../../battery/statistics.ts';
import type { Tiles } from '../tiles/tiles.ts';
import type { Label } from './label.ts';
import type { StandTiles } from './stands.ts';

/** Draws are looked at as means over this time, s; a level is what is kept for an hour. */
const BIN_S = 300;
const LEVEL_BINS = 12;
/** A level keeps within this: A, and as a part of it; what is below by more is fed. */
const KEEPS_A = 0.001;
const KEEPS = 0.04;
const BELOW_A = 0.002;
const BELOW = 0.1;
/** The level lies within so many bins (16 h) on either side. */
const REACH_BINS = 192;
/** The sun is up for longer, and comes up slowly: so many bins to most of its depth. */
const LEAST_BINS = 8;
const SLOW_BINS = 3;
const MOST_OF_DEPTH = 0.6;
/** Clouds let the level through for so many bins. */
const CLOUD_BINS = 6;
/** A zero that drifts with the temperature moves the level by night too: by less than this part of the depth, or it is no sun. */
const DRIFTS = 0.15;
/** The night is looked at for so many bins (5 h) before and after. */
const NIGHT_BINS = 60;

const isBelow = (drawA: number, levelA: number) => drawA < levelA - Math.max(BELOW_A, BELOW * levelA);

interface Bins {
  /** Mean draw, A; NaN where nothing parked was seen. */
  readonly draw: number[];
  readonly isFed: boolean[];
  /** First tile of each, and one past the last of all. */
  readonly first: number[];
  /** When each begins, and when the last ends, s since 1970. */
  readonly t: number[];
}

/** Labels as fed, in place, what the sun feeds within the stands; gives the tiles where that happened. */
export function labelSun(tiles: Tiles, labels: Label[], stands: readonly StandTiles[]): Uint8Array {
  const sunny = new Uint8Array(tiles.n);
  for (const stand of stands) {
    const bins = binsOf(tiles, labels, stand);
    if (bins.draw.length < 2 * LEVEL_BINS) continue;
    const level = levelsAround(keptLevels(bins));
    for (const run of sunkRuns(bins, level)) {
      const [from, to] = withoutRests(run, bins, level);
      if (!isSun(bins, level, from, to)) continue;
      const isSunk = (k: number) => isBelow(-tiles.i[k], level[from]);
      // The sun comes and goes within the bins at either end.
      let first = bins.first[from + 1];
      let last = bins.first[to] - 1;
      while (first > bins.first[from] && isSunk(first - 1)) first--;
      while (last + 1 < bins.first[to + 1] && isSunk(last + 1)) last++;
      for (let k = first; k <= last; k++) {
        if (labels[k] !== 'parked') continue;
        labels[k] = 'on-charger';
        sunny[k] = 1;
      }
    }
  }
  return sunny;
}

function binsOf(tiles: Tiles, labels: readonly Label[], { first, last }: StandTiles): Bins {
  const bins: Bins = { draw: [], isFed: [], first: [], t: [] };
  for (let k = first; k <= last; ) {
    const end = tiles.t0[k] + BIN_S;
    let [charge, covered, fedS] = [0, 0, 0];
    bins.first.push(k);
    bins.t.push(tiles.t0[k]);
    do {
      if (labels[k] === 'parked') {
        charge -= tiles.netAs[k];
        covered += tiles.iCov[k];
      } else if (labels[k] === 'on-charger') fedS += tiles.t1[k] - tiles.t0[k];
      k++;
    } while (k <= last && tiles.t1[k] <= end);
    bins.draw.push(covered > 0 ? charge / covered : Number.NaN);
    bins.isFed.push(fedS > covered);
  }
  bins.first.push(last + 1);
  bins.t.push(tiles.t1[last]);
  return bins;
}

/** For each bin the level that is kept for the hour from it on, A; NaN where none is. */
function keptLevels({ draw, isFed }: Bins): number[] {
  const n = draw.length;
  const kept = new Array<number>(n).fill(Number.NaN);
  for (let k = 0; k + LEVEL_BINS <= n; k++) {
    const hour = draw.slice(k, k + LEVEL_BINS);
    if (isFed.slice(k, k + LEVEL_BINS).includes(true) || hour.some(Number.isNaN)) continue;
    const middle = median(hour);
    if (middle > 0 && Math.max(...hour) - Math.min(...hour) <= KEEPS_A + KEEPS * middle) kept[k] = middle;
  }
  return kept;
}

/** For each bin the level that is kept before and after it: the lower of the highest on either side, or the one that is there. */
function levelsAround(kept: readonly number[]): number[] {
  const n = kept.length;
  const highest = (from: number, to: number) => {
    let most = Number.NaN;
    for (let k = Math.max(0, from); k <= to && k < n; k++) if (!(kept[k] <= most) && kept[k] >= 0) most = kept[k];
    return most;
  };
  return kept.map((_, k) => {
    const before = highest(k - REACH_BINS, k - LEVEL_BINS);
    const after = highest(k + 1, k + REACH_BINS);
    return Number.isNaN(before) ? after : Number.isNaN(after) ? before : Math.min(before, after);
  });
}

/** Runs of bins that are fed, or draw less than the level; clouds part none. */
function sunkRuns({ draw, isFed }: Bins, level: readonly number[]): [number, number][] {
  const runs: [number, number][] = [];
  const isSunk = (k: number) => isFed[k] || isBelow(draw[k], level[k]);
  let first = -1;
  let last = -1;
  for (let k = 0; k <= draw.length; k++) {
    if (k < draw.length && isSunk(k)) {
      if (first < 0) first = k;
      last = k;
    } else if (first >= 0 && (k === draw.length || k - last > CLOUD_BINS)) {
      runs.push([first, last]);
      first = -1;
    }
  }
  return runs;
}

/** What rests keeps its draw within this, as a part of it; in the dusk it grows all the time. */
const RESTS = 0.25;

/**
 * Before and after what flows in the sun gives less and less, and the draw comes near its level. What stays at one draw far below it
 * for an hour with nothing flowing in, until something is switched on, rests beside a charger, and its level was another's: that is
 * not fed.
 */
function withoutRests(
  [from, to]: [number, number],
  { draw, isFed, t }: Bins,
  level: readonly number[],
): [number, number] {
  const firstFed = isFed.indexOf(true, from);
  if (firstFed < 0 || firstFed > to) return [from, to];
  const lastFed = isFed.lastIndexOf(true, to);
  const rests = (first: number, last: number, isAfter: boolean) => {
    if (!(t[last + 1] - t[first] >= LEVEL_BINS * BIN_S)) return false;
    const outwards = isAfter ? draw.slice(first, last + 1) : draw.slice(first, last + 1).reverse();
    // The outermost may hold a part of what comes next.
    const outer = outwards.slice(Math.floor(outwards.length / 2), -2).filter((drawA) => !Number.isNaN(drawA));
    const usual = median(outer);
    const isKept = quantile(outer, 0.9) - quantile(outer, 0.1) <= Math.max(BELOW_A, RESTS * usual);
    return Math.min(...outer) > 0 && isKept && usual < (1 - MOST_OF_DEPTH) * level[isAfter ? first : last];
  };
  return [rests(from, firstFed - 1, false) ? firstFed : from, rests(lastFed + 1, to, true) ? lastFed : to];
}

function isSun({ draw, isFed }: Bins, level: readonly number[], from: number, to: number): boolean {
  // What flows in for long shows that something feeds; what flows in less before and after is of the same source.
  const isFedInside = isFed.slice(from, to + 1).includes(true);
  const isWhole = from > 0 && to < draw.length - 1;
  if (to - from + 1 < LEAST_BINS || !(isFedInside || isWhole)) return false;
  const depths: number[] = [];
  for (let k = from; k <= to; k++) depths.push(isFed[k] ? Number.POSITIVE_INFINITY : level[k] - draw[k]);
  const deepest = quantile(depths.filter(Number.isFinite), 0.9);
  const mostA = MOST_OF_DEPTH * deepest;
  const isSlow = (edge: readonly number[]) => isFedInside || edge.findIndex((depth) => depth > mostA) >= SLOW_BINS;
  if (!isSlow(depths) || !isSlow([...depths].reverse())) return false;
  const around = [...draw.slice(Math.max(0, from - NIGHT_BINS), from), ...draw.slice(to + 1, to + 1 + NIGHT_BINS)];
  const steady = around.filter((d) => d < 1.5 * level[from] && d > 0.5 * level[from]);
  return quantile(steady, 0.9) - quantile(steady, 0.1) <= Math.max(KEEPS_A, DRIFTS * deepest);
}
