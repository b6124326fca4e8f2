/** The tiles of some kinds of period. */
import type { Analysis, PeriodKind } from '../model.ts';

/** Indices of the tiles that begin within a period of one of the kinds, in order. */
export function tilesIn(
  { tiles, periods }: Pick<Analysis, 'tiles' | 'periods'>,
  kinds: readonly PeriodKind[],
): number[] {
  const { n, t0 } = tiles;
  const found: number[] = [];
  let k = 0;
  for (const { kind, start, end } of periods) {
    if (!kinds.includes(kind)) continue;
    while (k < n && t0[k] < start) k++;
    for (; k < n && t0[k] < end; k++) found.push(k);
  }
  return found;
}
