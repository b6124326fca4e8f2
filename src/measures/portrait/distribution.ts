/**
 * How long a quantity lay where: time in bins, in memory that no log makes larger. Bins of current keep 0.5 % of milliamperes
 * and of hundreds of amperes alike (they are even on a scale of asinh, linear about nought); those of voltage are 5 mV wide. Each
 * bin keeps the mean of what fell into it, so that a value that is read over and over comes out as it is.
 */

export interface Scale {
  bin(value: number): number;
  readonly bins: number;
}

/** Linear below this, A. */
const LINEAR_A = 0.001;
const STEP = 0.005;
/** ±4000 A. */
const HALF = Math.ceil(Math.asinh(4000 / LINEAR_A) / STEP);
const BIN_V = 0.005;
const MOST_V = 64;

const within = (bin: number, bins: number) => Math.min(Math.max(bin, 0), bins - 1);

export const AMPERES: Scale = {
  bins: 2 * HALF + 1,
  bin: (amps) => within(HALF + Math.round(Math.asinh(amps / LINEAR_A) / STEP), 2 * HALF + 1),
};

export const VOLTS: Scale = {
  bins: MOST_V / BIN_V,
  bin: (volts) => within(Math.round(volts / BIN_V), MOST_V / BIN_V),
};

export interface Spread {
  readonly p05: number;
  readonly p50: number;
  readonly p95: number;
}

export interface Distribution {
  /** Time that was added, s. */
  readonly seconds: number;
  add(value: number, seconds: number): void;
  /** The level below which the quantity lay for the share `p` of the time; NaN where nothing was added. */
  quantile(p: number): number;
  /** Null where nothing was added. */
  spread(): Spread | null;
  /** Bins that hold time, in rising order: mean of the values, and time, s. */
  held(): { readonly value: number; readonly seconds: number }[];
}

export function createDistribution(scale: Scale): Distribution {
  const time = new Float64Array(scale.bins);
  const sums = new Float64Array(scale.bins);
  const all = { seconds: 0 };
  const meanOf = (bin: number) => (sums[bin] ?? 0) / (time[bin] ?? 1);

  function quantile(p: number): number {
    const goal = p * all.seconds;
    let below = 0;
    let last = -1;
    for (let bin = 0; bin < scale.bins; bin++) {
      const seconds = time[bin] ?? 0;
      if (seconds === 0) continue;
      below += seconds;
      last = bin;
      if (below >= goal) break;
    }
    return last < 0 ? Number.NaN : meanOf(last);
  }

  return {
    get seconds() {
      return all.seconds;
    },
    add(value, seconds) {
      if (!(seconds > 0) || Number.isNaN(value)) return;
      const bin = scale.bin(value);
      time[bin] = (time[bin] ?? 0) + seconds;
      sums[bin] = (sums[bin] ?? 0) + value * seconds;
      all.seconds += seconds;
    },
    quantile,
    spread: () => (all.seconds > 0 ? { p05: quantile(0.05), p50: quantile(0.5), p95: quantile(0.95) } : null),
    held: () =>
      Array.from(time, (seconds, bin) => ({ value: meanOf(bin), seconds })).filter(({ seconds }) => seconds > 0),
  };
}
