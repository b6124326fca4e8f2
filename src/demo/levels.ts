/**
 * Levels that truly lasted while a simulation runs: voltages of drives and stands, charge, cold and heat. Voltages are
 * counted in bins, so that hours take no more memory than seconds.
 */
import type { Plan, Segment } from './plan.ts';

/** V */
const BIN_V = 0.01;
/** After a start the voltage climbs for a while, s. */
const CLIMB_S = 120;
/** What a battery was below for so long altogether is no moment, s. */
const LASTED_S = 60;

/** What one step saw; `v` and `i` from the middle of the step, draws in A. */
export interface Step {
  readonly from: number;
  readonly dt: number;
  readonly v: number;
  readonly i: number;
  readonly baseA: number;
  readonly aboveA: number;
  readonly tempC: number;
  /** State of charge, 0 to 1. */
  readonly charge: number;
}

export interface DriveLevels {
  /** That half, and 95 %, of the time lies below, after the first two minutes, V; NaN for a shorter drive. */
  readonly voltsMedian: number;
  readonly voltsHigh: number;
  readonly meanC: number;
}

export interface StandLevels {
  /** Below which it was for a minute, not counting chargers and disconnections, V. */
  readonly lowestV: number;
  readonly coldestC: number;
  /** State of charge at its begin and end, and at its lowest, 0 to 1. */
  readonly charge: { readonly start: number; readonly end: number; readonly low: number };
}

export interface Levels {
  add(step: Step, segment: Segment, drive: number, stand: number): void;
  drive(k: number): DriveLevels;
  stand(k: number): StandLevels;
  extremes(): Extremes;
}

export interface Extremes {
  /** Warmest while charged, and at any time, °C. */
  readonly chargedC: number;
  readonly everC: number;
  /** Largest current either way, A. */
  readonly amps: number;
}

export function makeLevels(plan: Plan): Levels {
  const drives = plan.drives.map(() => ({ volts: makeTally(), seconds: 0, warmthCs: 0 }));
  const stands = plan.parked.map(() => ({
    volts: makeTally(),
    coldestC: Number.POSITIVE_INFINITY,
    start: Number.NaN,
    end: Number.NaN,
    low: Number.POSITIVE_INFINITY,
  }));
  const extremes = { chargedC: Number.NEGATIVE_INFINITY, everC: Number.NEGATIVE_INFINITY, amps: 0 };
  return {
    add(step, segment, drive, stand) {
      const { dt, v, i, tempC, charge } = step;
      extremes.amps = Math.max(extremes.amps, Math.abs(i));
      extremes.everC = Math.max(extremes.everC, tempC);
      if (i > 0.5) extremes.chargedC = Math.max(extremes.chargedC, tempC);
      if (drive >= 0) {
        const sums = drives[drive];
        sums.seconds += dt;
        sums.warmthCs += dt * tempC;
        if (step.from >= plan.drives[drive].from + CLIMB_S) sums.volts.add(v, dt);
      }
      if (stand < 0) return;
      const sums = stands[stand];
      if (Number.isNaN(sums.start)) sums.start = charge;
      sums.end = charge;
      sums.low = Math.min(sums.low, charge);
      if (segment.kind !== 'settling' && segment.kind !== 'asleep' && segment.kind !== 'awake') return;
      sums.volts.add(v, dt);
      sums.coldestC = Math.min(sums.coldestC, tempC);
    },
    drive(k) {
      const { volts, seconds, warmthCs } = drives[k];
      return { voltsMedian: volts.share(0.5), voltsHigh: volts.share(0.95), meanC: warmthCs / seconds };
    },
    stand(k) {
      const { volts, coldestC, start, end, low } = stands[k];
      return { lowestV: volts.below(LASTED_S), coldestC, charge: { start, end, low } };
    },
    extremes: () => extremes,
  };
}

/** Time by voltage. */
function makeTally() {
  const bins = new Map<number, number>();
  let total = 0;
  /** The voltage below which so many seconds lie; NaN where there are fewer. */
  const below = (seconds: number): number => {
    let sum = 0;
    for (const bin of [...bins.keys()].sort((a, b) => a - b)) {
      sum += bins.get(bin) ?? 0;
      if (sum >= seconds) return bin * BIN_V;
    }
    return Number.NaN;
  };
  return {
    add(volts: number, seconds: number): void {
      const bin = Math.round(volts / BIN_V);
      bins.set(bin, (bins.get(bin) ?? 0) + seconds);
      total += seconds;
    },
    below,
    share: (p: number) => (total > 0 ? below(p * total) : Number.NaN),
  };
}
