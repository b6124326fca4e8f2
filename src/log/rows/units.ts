import type { Slot } from './wanted.ts';

/** Writes SI over the first `n` readings of a column. */
export function toSi(column: Float64Array, n: number, slot: Slot & { readonly kind: 'value' }): void {
  const { factor, divisor, offset } = slot;
  if (factor === 1 && divisor === 1 && offset === 0) return;
  // The offset also turns the −0 that a change of sign makes of 0 into 0.
  for (let row = 0; row < n; row++) column[row] = (column[row] * factor) / divisor + offset;
}
