/** How long the log's steps are, in fixed memory: a histogram on a log scale, 1 % a bin. */
const PER_DOUBLING = 64;
const LOWEST_EXP = -14;
const BINS = PER_DOUBLING * 40;

export interface StepCounter {
  add(dt: number): void;
  /** Median step, s; 0 for a log of one row. */
  median(): number;
}

export function createStepCounter(): StepCounter {
  const counts = new Float64Array(BINS);
  const sums = new Float64Array(BINS);
  let lastDt = Number.NaN;
  let lastBin = 0;

  const binOf = (dt: number) =>
    Math.max(0, Math.min(BINS - 1, Math.floor((Math.log2(dt) - LOWEST_EXP) * PER_DOUBLING)));

  return {
    add(dt) {
      // Most steps equal the one before to within a rounding error: spare the logarithm.
      if (!(Math.abs(dt - lastDt) < 1e-6)) {
        lastDt = dt;
        lastBin = binOf(dt);
      }
      counts[lastBin]++;
      sums[lastBin] += dt;
    },
    median() {
      let total = 0;
      for (const count of counts) total += count;
      let seen = 0;
      for (let bin = 0; bin < BINS; bin++) {
        seen += counts[bin];
        if (counts[bin] > 0 && seen * 2 >= total) return sums[bin] / counts[bin];
      }
      return 0;
    },
  };
}
