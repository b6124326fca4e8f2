/** Where the electrolyte of a lead-acid battery begins to freeze. Not for lfp. */
import type { Span } from './chemistry.ts';
import { densityFromCharge, TABLE_CHARGES } from './density.ts';
import { interpolate } from './interpolation.ts';

/** Density and freezing point, °C. Source: US Army OD 1002, p. 54 (seen). */
export const FREEZING_DENSITIES: readonly number[] = [1.0, 1.1, 1.15, 1.2, 1.25, 1.28];
export const FREEZING_BY_DENSITY_C: readonly number[] = [0, -7.2, -15, -26.7, -52.2, -67.8];

/** Freezing point, °C, at 0, 25, 50, 75 and 100 % charge. Source: TM 5-3820-256-24-4, Table 2 (seen). */
export const FREEZING_BY_CHARGE_C: readonly number[] = [-9.4, -15, -26.1, -37.2, -59.5];

/**
 * Freezing point for a charge of 0 to 1, °C, from the two published tables, which differ by up to 2 °C: `high` is the
 * warmer one, the one to be careful by. Holds for acid of 1.265 at full charge; a make filled denser freezes later, so
 * that `high` stays on the safe side. Charge 0 is the table's last row, not the end: a battery emptied further, as AGM can
 * be, nears water and 0 °C.
 */
export function freezingPointC(charge: number): Span {
  const byCharge = interpolate(TABLE_CHARGES, FREEZING_BY_CHARGE_C, charge);
  const byDensity = interpolate(FREEZING_DENSITIES, FREEZING_BY_DENSITY_C, densityFromCharge(charge));
  return { low: Math.min(byCharge, byDensity), high: Math.max(byCharge, byDensity) };
}
