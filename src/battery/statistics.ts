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

/** Range of the running sum of 8 readings about their line, over σ·√n (computed); of more it is wider, up to 1.1. */
const STRAY = 0.75;
const LEAST_TO_STRAY = 8;

/**
 * Standard uncertainty of the mean of evenly spaced readings whose neighbours go together, such as a ripple: from how far the
 * running sum of what departs from their line strays (rescaled range, Feller 1951, from memory). Of scatter without order it
 * is what σ/√n is; a ripple sums to little. Below 8 readings it is σ/√n; NaN below two.
 */
export function meanU(values: Numbers): number {
  const n = values.length;
  if (n < LEAST_TO_STRAY) return standardDeviation(values) / Math.sqrt(n);
  const fit = linearFit(
    Array.from(values, (_, k) => k),
    values,
  );
  let [sum, low, high] = [0, 0, 0];
  for (let k = 0; k < n; k++) {
    sum += values[k] - (fit ? fit.intercept + fit.slope * k : 0);
    low = Math.min(low, sum);
    high = Math.max(high, sum);
  }
  return (high - low) / (STRAY * n);
}

/** What `columns`, made independent of each other in turn (Gram and Schmidt), leave of `values`. */
function beyond(columns: readonly Numbers[], values: Numbers): Float64Array {
  const taken: Float64Array[] = [];
  const left = (column: Numbers) => {
    const rest = Float64Array.from(column);
    for (const one of taken) {
      const share = dot(rest, one);
      for (let k = 0; k < rest.length; k++) rest[k] -= share * one[k];
    }
    return rest;
  };
  for (const column of columns) {
    const rest = left(column);
    const size = Math.sqrt(dot(rest, rest));
    if (size > 1e-9 * Math.sqrt(dot(column, column))) taken.push(rest.map((one) => one / size));
  }
  return left(values);
}

function dot(a: Numbers, b: Numbers): number {
  let sum = 0;
  for (let k = 0; k < a.length; k++) sum += a[k] * b[k];
  return sum;
}

/** Correlation of neighbours, 0 to 0.95: 0 where they go against each other. */
function neighbours(values: Numbers): number {
  let [products, squares] = [0, 0];
  for (let k = 0; k < values.length; k++) {
    squares += values[k] ** 2;
    if (k > 0) products += values[k] * values[k - 1];
  }
  return squares > 0 ? Math.min(0.95, Math.max(0, products / squares)) : 0;
}

/**
 * Slope of y on x where y also goes along with other columns: least squares on all of them (Frisch and Waugh: the slope of what
 * the others and a constant leave of either). The standard uncertainty comes from the scatter; where scatter and x both go with
 * their neighbours, fewer readings count: n · (1 − ρρ') / (1 + ρρ') (Bartlett 1935, from memory). Null with too few readings, or
 * where x does not change beside the others.
 */
export function slopeBeside(
  xs: Numbers,
  ys: Numbers,
  others: readonly Numbers[],
): { readonly value: number; readonly u: number } | null {
  const n = xs.length;
  const free = n - 2 - others.length;
  if (free < 2) return null;
  const columns = [new Float64Array(n).fill(1), ...others];
  const [x, y] = [beyond(columns, xs), beyond(columns, ys)];
  const sxx = dot(x, x);
  if (!(sxx > 1e-12 * dot(xs, xs))) return null;
  const value = dot(x, y) / sxx;
  const left = y.map((one, k) => one - value * x[k]);
  const together = neighbours(left) * neighbours(x);
  return { value, u: Math.sqrt((dot(left, left) / free / sxx) * ((1 + together) / (1 - together))) };
}

/**
 * Mean of what lies on the other side of zero of normal scatter about `middle` (0 or more), without its sign:
 * σ·φ(m/σ) − m·Φ(−m/σ). The tail by Abramowitz and Stegun, 26.2.17 (from memory), to 1e-5.
 */
export function beyondZero(middle: number, sd: number): number {
  const z = middle / sd;
  const density = Math.exp((-z * z) / 2) / Math.sqrt(2 * Math.PI);
  const t = 1 / (1 + 0.2316419 * z);
  const tail =
    density * t * (0.31938153 + t * (-0.356563782 + t * (1.781477937 + t * (-1.821255978 + t * 1.330274429))));
  return Math.max(0, sd * density - middle * tail);
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
  const known = new Float64Array(values.length);
  const heavy = new Float64Array(values.length);
  let n = 0;
  let total = 0;
  for (let i = 0; i < values.length; i++) {
    if (!(weights[i] > 0) || Number.isNaN(values[i])) continue;
    known[n] = values[i];
    heavy[n++] = weights[i];
    total += weights[i];
  }
  return weightedRank(known.subarray(0, n), heavy, p * total);
}

/** The value at which the weights, in the order of the values, have added up to `goal`; the arrays are put in another order. */
function weightedRank(values: Float64Array, weights: Float64Array, goal: number): number {
  let low = 0;
  let high = values.length - 1;
  let below = 0;
  let pivot = Number.NaN;
  while (low <= high) {
    pivot = middleOf(values[low], values[(low + high) >> 1], values[high]);
    // Three parts: less than the pivot, up to `less`; like it, up to `k`; greater, behind `greater`.
    let less = low;
    let greater = high;
    let lessWeight = 0;
    let sameWeight = 0;
    for (let k = low; k <= greater; ) {
      if (values[k] < pivot) {
        lessWeight += weights[k];
        exchange(values, weights, k++, less++);
      } else if (values[k] > pivot) {
        exchange(values, weights, k, greater--);
      } else {
        sameWeight += weights[k++];
      }
    }
    if (less > low && below + lessWeight >= goal) {
      high = less - 1;
    } else if (below + lessWeight + sameWeight >= goal) {
      return pivot;
    } else {
      below += lessWeight + sameWeight;
      low = greater + 1;
    }
  }
  return pivot;
}

function exchange(values: Float64Array, weights: Float64Array, a: number, b: number): void {
  const value = values[a];
  values[a] = values[b];
  values[b] = value;
  const weight = weights[a];
  weights[a] = weights[b];
  weights[b] = weight;
}

/** Standard deviation of normal white noise whose neighbouring readings differ by `change` in the mean: that is 2/√π of it. */
export const whiteSd = (change: number): number => (change * Math.sqrt(Math.PI)) / 2;

/** Median absolute deviation from the median, times 1.4826, so that it estimates the standard deviation of normal scatter. */
export function robustSd(values: Numbers): number {
  const centre = median(values);
  const off = new Float64Array(values);
  for (let k = 0; k < off.length; k++) off[k] = Math.abs(off[k] - centre);
  return 1.4826 * median(off);
}
