/** Statistics on plain or typed arrays, written so that large means and small scatter do not drown each other. */
import { combine } from './uncertainty.ts';

type Numbers = ArrayLike<number>;

/** Arithmetic mean; NaN where there are no values. The second pass takes back what rounding lost in the first. */
export function mean(values: Numbers): number {
  const n = values.length;
  let sum = 0;
  for (let i = 0; i < n; i++) sum += values[i];
  const first = sum / n;
  let rest = 0;
  for (let i = 0; i < n; i++) rest += values[i] - first;
  return first + rest / n;
}

/** Standard deviation of a sample (n − 1), in two passes; NaN below two values. */
export function standardDeviation(values: Numbers): number {
  const n = values.length;
  if (n < 2) return Number.NaN;
  const centre = mean(values);
  let squares = 0;
  for (let i = 0; i < n; i++) squares += (values[i] - centre) ** 2;
  return Math.sqrt(squares / (n - 1));
}

export interface LinearFit {
  readonly intercept: number;
  readonly slope: number;
  /** Standard deviation of the residuals, n − 2 degrees of freedom; NaN for two points. */
  readonly residualSd: number;
  /** Standard uncertainties from the scatter alone; NaN for two points. */
  readonly interceptU: number;
  readonly slopeU: number;
}

/** Least squares line y = intercept + slope · x, unweighted; null where fewer than two different x are there. */
export function linearFit(xs: Numbers, ys: Numbers): LinearFit | null {
  const n = Math.min(xs.length, ys.length);
  const xMean = mean(xs);
  const yMean = mean(ys);
  let sxx = 0;
  let sxy = 0;
  for (let i = 0; i < n; i++) {
    sxx += (xs[i] - xMean) ** 2;
    sxy += (xs[i] - xMean) * (ys[i] - yMean);
  }
  if (!(sxx > 0)) return null;
  const slope = sxy / sxx;
  const intercept = yMean - slope * xMean;
  let residuals = 0;
  for (let i = 0; i < n; i++) residuals += (ys[i] - yMean - slope * (xs[i] - xMean)) ** 2;
  const residualSd = n > 2 ? Math.sqrt(residuals / (n - 2)) : Number.NaN;
  return {
    intercept,
    slope,
    residualSd,
    interceptU: residualSd * Math.sqrt(1 / n + xMean ** 2 / sxx),
    slopeU: residualSd / Math.sqrt(sxx),
  };
}

/** One steady point of a load step; `u…` are standard uncertainties without what both points share (a common offset cancels). */
export interface LoadPoint {
  /** Out of the battery, A. */
  readonly amperes: number;
  readonly volts: number;
  readonly uAmperes: number;
  readonly uVolts: number;
}

/**
 * Internal resistance from two loads, Ω: R = (V1 − V2) / (I2 − I1), with its standard uncertainty, and the voltage at no
 * load. Null where both currents are the same. Source: method of IEC 60896-21 (from memory).
 */
export function twoPointResistance(
  a: LoadPoint,
  b: LoadPoint,
): { readonly value: number; readonly u: number; readonly openV: number } | null {
  const stepA = b.amperes - a.amperes;
  if (stepA === 0) return null;
  const value = (a.volts - b.volts) / stepA;
  const u = combine(a.uVolts, b.uVolts, value * a.uAmperes, value * b.uAmperes) / Math.abs(stepA);
  return { value, u, openV: a.volts + value * a.amperes };
}

/** Integral by the trapezium rule over rising, unevenly spaced `xs`; 0 below two points. */
export function trapezium(xs: Numbers, ys: Numbers): number {
  let area = 0;
  for (let i = 1; i < xs.length; i++) area += ((ys[i - 1] + ys[i]) / 2) * (xs[i] - xs[i - 1]);
  return area;
}

/**
 * Quantile with straight lines between the sorted values (Hyndman and Fan's type 7); NaN where there are no values.
 *
 * @param p 0 to 1
 */
export function quantile(values: Numbers, p: number): number {
  const ranked = new Float64Array(values);
  const n = ranked.length;
  if (n === 0) return Number.NaN;
  const place = p * (n - 1);
  const left = Math.floor(place);
  // NaN counts as larger than any number, so it goes to the end; the numbers before it are put into rank as far as needed.
  let numbers = 0;
  for (let k = 0; k < n; k++) if (!Number.isNaN(ranked[k])) ranked[numbers++] = ranked[k];
  ranked.fill(Number.NaN, numbers);
  if (left < numbers) rank(ranked, left, numbers);
  if (left === place) return ranked[left];
  let right = Number.POSITIVE_INFINITY;
  for (let k = left + 1; k < numbers; k++) if (ranked[k] < right) right = ranked[k];
  if (left + 1 >= numbers) right = Number.NaN;
  return ranked[left] + (right - ranked[left]) * (place - left);
}

/** Puts the `k`-th smallest of the first `n` numbers in its place, no larger ones before it and no smaller ones behind (Hoare's FIND). */
function rank(numbers: Float64Array, k: number, n: number): void {
  let low = 0;
  let high = n - 1;
  while (low < high) {
    const pivot = middleOf(numbers[low], numbers[(low + high) >> 1], numbers[high]);
    let i = low;
    let j = high;
    while (i <= j) {
      while (numbers[i] < pivot) i++;
      while (numbers[j] > pivot) j--;
      if (i > j) break;
      [numbers[i], numbers[j]] = [numbers[j], numbers[i]];
      i++;
      j--;
    }
    if (k <= j) high = j;
    else if (k >= i) low = i;
    else return;
  }
}

const middleOf = (a: number, b: number, c: number) => Math.max(Math.min(a, b), Math.min(Math.max(a, b), c));

export function median(values: Numbers): number {
  return quantile(values, 0.5);
}

/**
 * Smallest value at or below which at least the share `p` of all weight lies: with durations as weights, the level that
 * a quantity keeps below for that share of the time. NaN where there is no weight.
 */
export function weightedQuantile(values: Numbers, weights: Numbers, p: number): number {
  const order = Array.from(values, (_, i) => i)
    .filter((i) => weights[i] > 0 && !Number.isNaN(values[i]))
    .sort((a, b) => values[a] - values[b]);
  const total = order.reduce((sum, i) => sum + weights[i], 0);
  let below = 0;
  for (const i of order) {
    below += weights[i];
    if (below >= p * total) return values[i];
  }
  return order.length > 0 ? values[order[order.length - 1]] : Number.NaN;
}

/** Median absolute deviation from the median, times 1.4826, so that it estimates the standard deviation of normal scatter. */
export function robustSd(values: Numbers): number {
  const centre = median(values);
  return 1.4826 * median(Array.from(values, (value) => Math.abs(value - centre)));
}
