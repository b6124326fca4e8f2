/** Walks the tiles of some kinds of period. */
import type { Analysis, PeriodKind } from './analysis.ts';

/** Indices of the tiles that begin within a period of one of the kinds, in order. */
export function* tilesIn(
  { tiles, periods }: Pick<Analysis, 'tiles' | 'periods'>,
  kinds: readonly PeriodKind[],
): Generator<number> {
  let p = 0;
  for (let k = 0; k < tiles.n; k++) {
    while (p < periods.length && periods[p].end <= tiles.t0[k]) p++;
    const period = periods[p];
    if (period && period.start <= tiles.t0[k] && kinds.includes(period.kind)) yield k;
  }
}
