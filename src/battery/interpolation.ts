/**
 * Straight lines between the points of a table, held at its ends: a table says nothing beyond its last row.
 *
 * @param xs strictly rising, at least one value
 * @param ys as many as `xs`
 */
export function interpolate(xs: readonly number[], ys: readonly number[], x: number): number {
  if (x <= xs[0]) return ys[0];
  if (x >= xs[xs.length - 1]) return ys[ys.length - 1];
  return alongSegment(xs, ys, x);
}

/** As `interpolate`, but the first and last lines go on beyond the ends: for slopes and uncertainties near an end. */
export function extrapolate(xs: readonly number[], ys: readonly number[], x: number): number {
  return alongSegment(xs, ys, x);
}

function alongSegment(xs: readonly number[], ys: readonly number[], x: number): number {
  let right = 1;
  while (right < xs.length - 1 && xs[right] < x) right++;
  const left = right - 1;
  return ys[left] + ((ys[right] - ys[left]) * (x - xs[left])) / (xs[right] - xs[left]);
}
