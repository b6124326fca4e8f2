/**
 * Where the current sensor ran out of range: readings at the range that the manifest states, or cranks that all stop at
 * one and the same peak although no two starts are alike.
 */
import type { Analysis, Crank } from '../analysis/model.ts';
import { INRUSH_S } from '../battery/cranking.ts';
import { measure } from './measure.ts';

/** From this share of the stated range on a reading is taken for clipped. Common practice, no source. */
export const FULL_SCALE = 0.995;
/** Cranks that stop at the same value; or readings of one that stay on it, for longer than a starter's peak is flat, s. */
const SAME_CRANKS = 3;
const SAME_READINGS = 5;
const SAME_S = 0.03;
/** Steps coarser than this share of the peak make peaks alike without any clipping. */
const COARSEST = 0.005;
/** A plateau with more clipped readings than this share gives no resistance. */
const CLIPPED_SHARE = 0.1;

export interface Clipping {
  /** Largest reading that the sensor gave, A, without a sign. */
  readonly levelA: number;
  /** Told by the manifest's range, or by peaks that are all alike. */
  readonly by: 'range' | 'same-peak';
  /** Tiles with such a reading, and the first of them, s since the epoch. */
  readonly tiles: number;
  readonly at: number;
  /** Cranks that hold such a reading. */
  readonly cranks: number;
}

/** Null where nothing was clipped. */
export const clippingOf = measure((analysis, session): Clipping | null => {
  const rangeA = session.log.columns.current?.rangeA;
  if (rangeA !== undefined) return describe(analysis, FULL_SCALE * rangeA, rangeA, 'range');
  const levelA = Math.max(0, ...analysis.cranks.map((crank) => crank.ampsPeak ?? 0));
  if (levelA === 0 || analysis.resolution.i > COARSEST * levelA) return null;
  // A sensor out of range gives one and the same number, to the last digit.
  const fromA = levelA - 0.6 * analysis.resolution.i;
  const alike = analysis.cranks.filter((crank) => (crank.ampsPeak ?? 0) >= fromA);
  const piled = alike.some(({ wave }) => {
    const at = wave.t.filter((_, k) => Math.abs(wave.i[k]) >= fromA);
    return at.length >= SAME_READINGS && at[at.length - 1] - at[0] >= SAME_S;
  });
  return alike.length >= SAME_CRANKS || piled ? describe(analysis, fromA, levelA, 'same-peak') : null;
});

function describe(analysis: Analysis, fromA: number, levelA: number, by: Clipping['by']): Clipping | null {
  const { tiles: columns, cranks } = analysis;
  let tiles = 0;
  let at = Number.NaN;
  for (let k = 0; k < columns.n; k++) {
    if (!(columns.iMax[k] >= fromA || columns.iMin[k] <= -fromA)) continue;
    if (tiles++ === 0) at = columns.t0[k];
  }
  return tiles === 0
    ? null
    : { levelA, by, tiles, at, cranks: cranks.filter((crank) => (crank.ampsPeak ?? 0) >= fromA).length };
}

/** Largest reading of the log without its sign, A. */
export function largestCurrentA({ tiles }: Analysis): number {
  let most = 0;
  for (let k = 0; k < tiles.n; k++) {
    if (-tiles.iMin[k] > most) most = -tiles.iMin[k];
    if (tiles.iMax[k] > most) most = tiles.iMax[k];
  }
  return most;
}

/** True where so much of a crank's plateau was clipped that its resistance is no measure; clipping in the inrush alone does no harm. */
export function plateauClipped(crank: Crank, clipping: Clipping | null): boolean {
  if (!clipping) return false;
  const fromA = FULL_SCALE * clipping.levelA;
  const { t, i } = crank.wave;
  if (t.length === 0) return (crank.ampsPeak ?? 0) >= fromA;
  let plateau = 0;
  let clipped = 0;
  for (let k = 0; k < t.length; k++) {
    if (t[k] < crank.at + INRUSH_S || t[k] > crank.at + crank.seconds) continue;
    plateau++;
    if (Math.abs(i[k]) >= fromA) clipped++;
  }
  return clipped > CLIPPED_SHARE * plateau;
}
