/** Wakes are sorted by their places in the list of all, which is in order of time. */

/** In as many parts as there are keys, in the order of their first members. */
export function split<K>(places: readonly number[], keyOf: (place: number) => K): number[][] {
  const parts = new Map<K, number[]>();
  for (const k of places) {
    const part = parts.get(keyOf(k));
    if (part) part.push(k);
    else parts.set(keyOf(k), [k]);
  }
  return [...parts.values()];
}

/** In order of time. */
export const sorted = (places: readonly number[]) => places.toSorted((a, b) => a - b);

export function without(places: readonly number[], taken: readonly number[]): number[] {
  const out = new Set(taken);
  return places.filter((k) => !out.has(k));
}
