/**
 * Charging in bursts while driving: a regulator that lowers its voltage while the engine pulls and raises it on the overrun, or
 * feeds the battery what braking gives. No log tells the overrun from another moment; what it shows is how often, for how long and how high.
 */
import type { Analysis, Drive, Span } from '../../analysis/model.ts';
import { tileAt } from '../../analysis/tiles/tiles.ts';
import { perTwelveVolt } from '../../battery/chemistry.ts';
import { weightedQuantile } from '../../battery/statistics.ts';
import type { Session } from '../../manifest/session.ts';
import { measure } from '../measure.ts';
import type { Spread } from './distribution.ts';
import { spreadOf } from './spread-of.ts';

/** The first minutes charge without a pause, s. */
const BEGIN_S = 120;
/** Two levels so far apart are two commands and no drift, V for each 12 V. Common practice, no source. */
const APART_V = 0.5;
/** A burst lasts no longer than a descent, s; a slower log does not show it. */
const LONGEST_S = 90;
const SLOWEST_STEP_S = 5;
/** Fewer are no pattern; nor is it one where most comes in between, or as much flows in as in a burst. Common practice, no source. */
const LEAST = 5;
const LEAST_SHARE = 0.2;
const MOST_BETWEEN = 0.5;

export interface Bursts {
  /** In order of time. */
  readonly all: readonly Span[];
  /** For each hour of driving behind its first minutes. */
  readonly perHour: number;
  readonly seconds: Spread;
  /** Mean of each, and between them over the time. */
  readonly volts: Spread;
  readonly amps: Spread;
  readonly betweenV: number;
  readonly betweenA: number;
  readonly chargeAh: Spread;
  /** Of the charge that came in behind the drives' first minutes, the part that came in bursts, 0 to 1. */
  readonly share: number;
}

interface Burst extends Span {
  readonly seconds: number;
  readonly volts: number;
  readonly amps: number;
}

/** Null where there is no such pattern, or where the log cannot show one: too slow, or without current. */
export const bursts = measure((analysis, session): Bursts | null => {
  if (!analysis.has.current || (analysis.stepsS.driving ?? analysis.medianStepS) > SLOWEST_STEP_S) return null;
  const all: Burst[] = [];
  const sums = { inAs: 0, burstAs: 0, seconds: 0, between: { seconds: 0, voltSeconds: 0, ampSeconds: 0 } };
  for (const drive of analysis.drives) addDrive(analysis, session, drive, all, sums);
  const { between } = sums;
  const [seconds, volts, amps, chargeAh] = [
    spreadOf(all.map((one) => one.seconds)),
    spreadOf(all.map((one) => one.volts)),
    spreadOf(all.map((one) => one.amps)),
    spreadOf(all.map((one) => (one.amps * one.seconds) / 3600)),
  ];
  if (all.length < LEAST || !seconds || !volts || !amps || !chargeAh || between.seconds === 0) return null;
  const betweenA = between.ampSeconds / between.seconds;
  const share = sums.inAs > 0 ? sums.burstAs / sums.inAs : 0;
  if (share < LEAST_SHARE || betweenA > MOST_BETWEEN * amps.p50) return null;
  return {
    all: all.map(({ start, end }) => ({ start, end })),
    perHour: (3600 * all.length) / sums.seconds,
    seconds,
    volts,
    amps,
    betweenV: between.voltSeconds / between.seconds,
    betweenA,
    chargeAh,
    share,
  };
});

interface Sums {
  inAs: number;
  burstAs: number;
  /** Driving time looked at, in drives that show two levels or do not. */
  seconds: number;
  readonly between: { seconds: number; voltSeconds: number; ampSeconds: number };
}

function addDrive({ tiles }: Analysis, session: Session, drive: Drive, all: Burst[], sums: Sums): void {
  const within: number[] = [];
  for (let k = tileAt(tiles, drive.start + BEGIN_S); k < tiles.n && (tiles.t1[k] ?? 0) <= drive.end; k++)
    if (!Number.isNaN(tiles.v[k] ?? Number.NaN)) within.push(k);
  const lasts = (k: number) => (tiles.t1[k] ?? 0) - (tiles.t0[k] ?? 0);
  const spans = within.map(lasts);
  sums.seconds += spans.reduce((sum, s) => sum + s, 0);
  for (const k of within) sums.inAs += Math.max(0, tiles.netAs[k] ?? 0);

  const levels = within.map((k) => tiles.v[k] ?? 0);
  const [low, high] = [weightedQuantile(levels, spans, 0.25), weightedQuantile(levels, spans, 0.97)];
  const apartV = APART_V * perTwelveVolt(session.vehicle.systemV);
  if (!(high - low >= apartV)) return;
  // It is on above the upper third and off below the lower one, so that a wavering level is one burst.
  const [on, off] = [low + (2 / 3) * (high - low), low + (high - low) / 3];
  let from = -1;
  for (let at = 0; at <= within.length; at++) {
    const k = within[at];
    const volts = k === undefined ? Number.NEGATIVE_INFINITY : (tiles.v[k] ?? 0);
    if (from < 0 && volts > on) from = at;
    else if (from >= 0 && volts < off) {
      const run = within.slice(from, at);
      // One that the drive's end or the first minutes cut short is not whole.
      const isWhole = from > 0 && at < within.length;
      const seconds = run.reduce((sum, one) => sum + lasts(one), 0);
      const chargeAs = run.reduce((sum, one) => sum + (tiles.netAs[one] ?? 0), 0);
      if (isWhole && seconds <= LONGEST_S && chargeAs > 0) {
        const voltSeconds = run.reduce((sum, one) => sum + (tiles.v[one] ?? 0) * lasts(one), 0);
        all.push({
          start: tiles.t0[run[0] ?? 0] ?? 0,
          end: tiles.t1[run.at(-1) ?? 0] ?? 0,
          seconds,
          volts: voltSeconds / seconds,
          amps: chargeAs / seconds,
        });
        sums.burstAs += chargeAs;
      }
      from = -1;
    }
    if (k !== undefined && from < 0 && volts < off) {
      sums.between.seconds += lasts(k);
      sums.between.voltSeconds += volts * lasts(k);
      sums.between.ampSeconds += tiles.netAs[k] ?? 0;
    }
  }
}
