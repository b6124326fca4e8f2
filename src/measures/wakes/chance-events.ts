/** What chance alone can do: events that come singly, at one rate, or in bursts, at two. */

/** The best log-likelihood of waiting times (s, above 0) over all rates. */
export function logChance(waits: readonly number[]): number {
  if (waits.length === 0) return 0;
  const meanS = waits.reduce((sum, s) => sum + s, 0) / waits.length;
  const singly = -waits.length * (Math.log(meanS) + 1);
  return Math.max(singly, ...[4, 30].map((ratio) => logBursts(waits, meanS, ratio)));
}

/** Two rates fitted by expectation and maximisation from one start: short waits within a burst, long ones between. */
function logBursts(waits: readonly number[], meanS: number, ratio: number): number {
  let [shortS, longS, share] = [meanS / ratio, meanS * 2, 0.5];
  let log = Number.NEGATIVE_INFINITY;
  for (let round = 0; round < 60; round++) {
    log = 0;
    const sum = { n: 0, short: 0, long: 0 };
    for (const s of waits) {
      const a = (share / shortS) * Math.exp(-s / shortS);
      const b = ((1 - share) / longS) * Math.exp(-s / longS);
      const p = a / (a + b + Number.MIN_VALUE);
      log += Math.log(a + b + Number.MIN_VALUE);
      sum.n += p;
      sum.short += p * s;
      sum.long += (1 - p) * s;
    }
    if (sum.n < 1e-6 || waits.length - sum.n < 1e-6) return log;
    [shortS, longS, share] = [sum.short / sum.n, sum.long / (waits.length - sum.n), sum.n / waits.length];
  }
  return log;
}
