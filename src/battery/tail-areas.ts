/**
 * Areas under the curves that small samples are judged by: normal, χ² and Student's t. Textbook series and continued fractions (as in
 * Abramowitz and Stegun, Handbook of Mathematical Functions, 6.5.29, 6.5.31 and 26.5.8, from memory), to about ten digits.
 */

const MOST_TERMS = 500;
const ENOUGH = 1e-14;

/** ln Γ(x) for x > 0, by Stirling's series where that is exact enough, and the recurrence below it. */
function logGamma(x: number): number {
  let shift = 0;
  let z = x;
  while (z < 12) {
    shift += Math.log(z);
    z += 1;
  }
  const series = 1 / (12 * z) - 1 / (360 * z ** 3) + 1 / (1260 * z ** 5) - 1 / (1680 * z ** 7);
  return (z - 0.5) * Math.log(z) - z + 0.5 * Math.log(2 * Math.PI) + series - shift;
}

/** P(a, x), the lower incomplete gamma function over Γ(a). */
function gammaBelow(a: number, x: number): number {
  if (!(x > 0)) return 0;
  const front = Math.exp(a * Math.log(x) - x - logGamma(a));
  if (x < a + 1) {
    let term = 1 / a;
    let sum = term;
    for (let n = 1; n < MOST_TERMS && term > ENOUGH * sum; n++) {
      term *= x / (a + n);
      sum += term;
    }
    return front * sum;
  }
  return (
    1 -
    front *
      continued(
        (n) => (n === 0 ? 1 : n * (a - n)),
        (n) => x + 2 * n + 1 - a,
      )
  );
}

/** Value of a continued fraction a0 / (b0 + a1 / (b1 + …)), by Lentz's method. */
function continued(a: (n: number) => number, b: (n: number) => number): number {
  const tiny = 1e-300;
  let value = tiny;
  let c = tiny;
  let d = 0;
  for (let n = 0; n < MOST_TERMS; n++) {
    d = 1 / (b(n) + a(n) * d || tiny);
    c = b(n) + a(n) / c || tiny;
    value *= c * d;
    if (Math.abs(c * d - 1) < ENOUGH) break;
  }
  return value;
}

/** Probability that a standard normal value lies below `x`. */
export function normalBelow(x: number): number {
  const half = gammaBelow(0.5, (x * x) / 2) / 2;
  return x < 0 ? 0.5 - half : 0.5 + half;
}

/** Probability that χ² with `degrees` of freedom lies below `x`. */
export const chiSquareBelow = (x: number, degrees: number) => gammaBelow(degrees / 2, x / 2);

/** Probability that |t| with `degrees` of freedom exceeds `t`. */
export function studentBeyond(t: number, degrees: number): number {
  return betaBelow(degrees / (degrees + t * t), degrees / 2, 0.5);
}

/** Regularised incomplete beta function. */
function betaBelow(x: number, a: number, b: number): number {
  if (x <= 0) return 0;
  if (x >= 1) return 1;
  if (x > (a + 1) / (a + b + 2)) return 1 - betaBelow(1 - x, b, a);
  const front = Math.exp(a * Math.log(x) + b * Math.log(1 - x) - logGamma(a) - logGamma(b) + logGamma(a + b)) / a;
  const coefficient = (n: number) => {
    if (n === 0) return 1;
    const m = Math.floor(n / 2);
    return n % 2 === 0
      ? (m * (b - m) * x) / ((a + 2 * m - 1) * (a + 2 * m))
      : -((a + m) * (a + b + m) * x) / ((a + 2 * m) * (a + 2 * m + 1));
  };
  return front * continued(coefficient, () => 1);
}

/** Where a rising function of `low` to `high` passes `level`. */
export function whereRising(probability: (x: number) => number, level: number, low: number, high: number): number {
  let [from, to] = [low, high];
  for (let k = 0; k < 200; k++) {
    const middle = (from + to) / 2;
    if (!(middle > from && middle < to)) break;
    if (probability(middle) < level) from = middle;
    else to = middle;
  }
  return (from + to) / 2;
}
