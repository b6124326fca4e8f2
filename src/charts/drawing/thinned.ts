/**
 * A line with at most four points for each column of its width: first, lowest, highest and last. Drawn, it covers the same
 * pixels as the whole line (M4: Jugel et al., PVLDB 7(10), 2014).
 */
export function thinned<P extends { readonly t: number; readonly y: number }>(
  points: readonly P[],
  columns: number,
): readonly P[] {
  if (points.length <= 4 * columns) return points;
  const from = points[0].t;
  const columnWidth = (points[points.length - 1].t - from) / columns;
  const columnOf = (point: P) => Math.min(Math.floor((point.t - from) / columnWidth), columns - 1);
  const kept: P[] = [];
  for (let start = 0; start < points.length; ) {
    const column = columnOf(points[start]);
    let [end, low, high] = [start, start, start];
    for (; end < points.length && columnOf(points[end]) === column; end++) {
      if (points[end].y < points[low].y) low = end;
      if (points[end].y > points[high].y) high = end;
    }
    const places = [...new Set([start, low, high, end - 1])].sort((a, b) => a - b);
    kept.push(...places.map((place) => points[place]));
    start = end;
  }
  return kept;
}

/** At most `most` of a cloud of points, evenly from its first to its last. */
export function someOf<P>(points: readonly P[], most: number): readonly P[] {
  const every = Math.ceil(points.length / most);
  return points.filter((_, k) => k % every === 0);
}
