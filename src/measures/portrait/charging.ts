/** How the vehicle charges while it runs: voltage and current by time since the drive began, and what a drive puts back. */
import type { Analysis, Drive } from '../../analysis/model.ts';
import { tileAt } from '../../analysis/tiles/tiles.ts';
import { measure } from '../measure.ts';
import { AMPERES, createDistribution, type Spread, VOLTS } from './distribution.ts';
import { spreadOf } from './spread-of.ts';

/** Borders of the time since a drive began, min. */
const BORDERS_MIN = [0, 1, 2, 5, 10, 20, 40, 80];
/** Lengths for which it is told what came back, min. */
const LENGTHS_MIN = [5, 10, 15, 20, 30, 45, 60, 90];

export interface ChargingPart {
  readonly fromS: number;
  /** Null for the last: until the drives end. */
  readonly toS: number | null;
  /** Drives that lasted into it. */
  readonly drives: number;
  readonly volts: Spread;
  /** Null without current. */
  readonly amps: Spread | null;
}

export interface PutBack {
  readonly minutes: number;
  /** Drives that lasted so long. */
  readonly drives: number;
  /** Net charge from the begin of the drive until then, Ah. */
  readonly chargeAh: Spread;
}

export interface Charging {
  readonly parts: readonly ChargingPart[];
  readonly putBack: readonly PutBack[];
}

export const charging = measure((analysis): Charging => ({ parts: partsOf(analysis), putBack: putBackOf(analysis) }));

function partsOf({ tiles, drives }: Analysis): ChargingPart[] {
  return BORDERS_MIN.flatMap((fromMin, at) => {
    const toMin = BORDERS_MIN[at + 1];
    const [fromS, toS] = [60 * fromMin, toMin === undefined ? null : 60 * toMin];
    const volts = createDistribution(VOLTS);
    const amps = createDistribution(AMPERES);
    const reach = drives.filter(({ start, end }) => end - start > fromS);
    for (const { start, end } of reach) {
      const until = Math.min(end, start + (toS ?? Number.POSITIVE_INFINITY));
      for (let k = tileAt(tiles, start + fromS); k < tiles.n && (tiles.t0[k] ?? 0) < until; k++) {
        const seconds = (tiles.t1[k] ?? 0) - (tiles.t0[k] ?? 0);
        volts.add(tiles.v[k] ?? Number.NaN, seconds);
        amps.add(tiles.i[k] ?? Number.NaN, seconds);
      }
    }
    const spread = volts.spread();
    return spread ? [{ fromS, toS, drives: reach.length, volts: spread, amps: amps.spread() }] : [];
  });
}

function putBackOf(analysis: Analysis): PutBack[] {
  if (!analysis.has.current) return [];
  return LENGTHS_MIN.flatMap((minutes) => {
    const long = analysis.drives.filter(({ start, end }) => end - start >= 60 * minutes);
    const chargeAh = spreadOf(long.map((drive) => netAh(analysis, drive, 60 * minutes)));
    return chargeAh ? [{ minutes, drives: long.length, chargeAh }] : [];
  });
}

function netAh({ tiles }: Analysis, { start }: Drive, seconds: number): number {
  let netAs = 0;
  for (let k = tileAt(tiles, start); k < tiles.n && (tiles.t0[k] ?? 0) < start + seconds; k++)
    netAs += tiles.netAs[k] ?? 0;
  return netAs / 3600;
}
