/** Where the electrolyte of a lead-acid battery begins to freeze. Not for lithium. */
import type { Range } from './chemistry.ts';
import { densityFromCharge, TABLE_CHARGES } from './density.ts';
import { interpolate } from './interpolation.ts';

/** Density and freezing point, °C. Source: US Army OD 1002, p. 54 (seen). */
export const FREEZING_DENSITIES: readonly number[] = [1.0, 1.1, 1.15, 1.2, 1.25, 1.28];
export const FREEZING_BY_DENSITY_C: readonly number[] = [0, -7.2, -15, -26.7, -52.2, -67.8];

/** Freezing point, °C, at 0, 25, 50, 75 and 100 % charge. Source: TM 5-3820-256-24-4, Table 2 (seen). */
export const FREEZING_BY_CHARGE_C = [-9.4, -15, -26.1, -37.2, -59.5] as const;

/**
 * Freezing point of acid drained to a density of 1.050, °C (27 °F). Source: a vehicle maker's owner's manual, storage chart by
 * density (seen). A voltage that reads "empty" leaves open how far below the charge tables' last row, 1.120, the battery went.
 */
export const FREEZING_DRAINED_C = -2.8;

/**
 * Freezing point for a charge of 0 to 1, °C, from the two published tables, which differ by up to 2 °C: `high` is the
 * warmer one, the one to be careful by. Holds for acid of 1.265 at full charge; a make filled denser freezes later, so
 * that `high` stays on the safe side. Below a charge of 25 % `high` goes to that of a drained battery at 0.
 */
export function freezingPointC(charge: number): Range {
  const byCharge = interpolate(TABLE_CHARGES, FREEZING_BY_CHARGE_C, charge);
  const byDensity = interpolate(FREEZING_DENSITIES, FREEZING_BY_DENSITY_C, densityFromCharge(charge));
  const drained = interpolate([0, TABLE_CHARGES[1]], [FREEZING_DRAINED_C, FREEZING_BY_CHARGE_C[1]], charge);
  return {
    low: Math.min(byCharge, byDensity),
    high: charge < TABLE_CHARGES[1] ? Math.max(byCharge, byDensity, drained) : Math.max(byCharge, byDensity),
  };
}
