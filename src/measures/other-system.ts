/**
 * The system that a log's voltage suits, where it does not suit the declared one: so that it is told, or so surely that no report is
 * made of it. Parts and limits are common practice, no source.
 */
import { leastInA } from '../analysis/states/feeding.ts';
import type { Tiles } from '../analysis/tiles/tiles.ts';
import { perTwelveVolt, type SystemVoltage } from '../battery/chemistry.ts';
import { ENGINE_V } from '../battery/fed-voltage.ts';
import { weightedQuantile } from '../battery/statistics.ts';
import { measure } from './measure.ts';
import { mostBy } from './spans.ts';

/** Beyond this part of the declared system's voltage no battery of it gets; below that one none of it stays all the time. */
const TOO_HIGH = 5 / 3;
const TOO_LOW = 0.66;
/** Never below this part: an overcharge comes to an end. */
const ALWAYS_ABOVE = 1.5;
/** A battery of a system is somewhere between these parts of it at all times. */
const PLAUSIBLE = [2 / 3, 4 / 3] as const;
/** Charged for so long by the other system's voltage, s: a dead pair of 24 V may lie as low, and no generator leaves it there. */
const CHARGED_S = 300;

export interface OtherSystem {
  /** What half of the time lies below. */
  readonly usualV: number;
  readonly suitsV: SystemVoltage;
  readonly tooHigh: boolean;
  readonly lowestV: number;
  readonly highestV: number;
  /** No battery of the declared system can be behind it, however worn. */
  readonly isSure: boolean;
}

/** Null where the voltage suits the declared system. */
export const otherSystem = measure(({ tiles }, session): OtherSystem | null => {
  const { systemV } = session.vehicle;
  const [volts, seconds] = [
    tiles.v.subarray(0, tiles.n),
    tiles.t1.subarray(0, tiles.n).map((end, k) => end - tiles.t0[k]),
  ];
  // Added up before anything is put in order: nearly every log suits its system.
  const secondsWhere = (holds: (volts: number) => boolean) =>
    seconds.reduce((sum, lasted, k) => sum + (holds(volts[k]) ? lasted : 0), 0);
  const knownS = secondsWhere((v) => !Number.isNaN(v));
  const { lowestV, highestV } = rangeOf(tiles);
  const tooHigh = secondsWhere((v) => v > TOO_HIGH * systemV) > 0.5 * knownS || lowestV > ALWAYS_ABOVE * systemV;
  if (!tooHigh && !(secondsWhere((v) => v < TOO_LOW * systemV) > 0.99 * knownS)) return null;
  const usualV = weightedQuantile(volts, seconds, 0.5);
  const suitsV = mostBy([6, 12, 24] as const, (volts) => -Math.abs(Math.log(usualV / volts))) ?? systemV;
  if (suitsV === systemV) return null;
  const isPlausible = highestV > PLAUSIBLE[0] * suitsV && highestV < PLAUSIBLE[1] * suitsV;
  const isSure = tooHigh
    ? lowestV > ALWAYS_ABOVE * systemV
    : chargedS(tiles, ENGINE_V * perTwelveVolt(suitsV), leastInA(session)) >= CHARGED_S;
  return { usualV, suitsV, tooHigh, lowestV, highestV, isSure: isPlausible && isSure };
});

/** Time for which current flows in above a voltage, s. */
function chargedS({ n, t0, t1, v, i }: Tiles, fromV: number, intoA: number): number {
  let seconds = 0;
  for (let k = 0; k < n; k++) if (v[k] > fromV && i[k] >= intoA) seconds += t1[k] - t0[k];
  return seconds;
}

/** V: the lowest mean of a tile, and the highest reading; infinite without any. */
function rangeOf({ n, v, vMax }: Tiles): { lowestV: number; highestV: number } {
  let [lowestV, highestV] = [Number.POSITIVE_INFINITY, Number.NEGATIVE_INFINITY];
  for (let k = 0; k < n; k++) {
    if (v[k] < lowestV) lowestV = v[k];
    if (vMax[k] > highestV) highestV = vMax[k];
  }
  return { lowestV, highestV };
}
