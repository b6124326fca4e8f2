/**
 * Density of the acid, relative to water at the same temperature (1.265 and the like), against charge and voltage.
 * Holds for flooded batteries filled to 1.265; other makes are filled to 1.280 or more (from memory).
 */
import type { SystemVoltage } from './chemistry.ts';
import { interpolate } from './interpolation.ts';

/** Charge levels of the tables here, 0 to 1. */
export const TABLE_CHARGES = [0, 0.25, 0.5, 0.75, 1] as const;

/** Density at each of `TABLE_CHARGES`. Source: US Army TM 5-3820-256-24-4, Table 2 (seen). */
export const TABLE_DENSITIES = [1.12, 1.155, 1.19, 1.225, 1.265] as const;

/**
 * Open-circuit voltage of a cell less its density, V.
 * Sources: 0.84, TM 5-684 / NAVFAC MO-200, eq. 14-1 (seen); 0.845, DOE-HDBK-1084-95, p. 18 (seen in excerpt).
 */
export const CELL_OFFSETS_V = [0.84, 0.845] as const;

/** Density at 26.7 °C (80 °F) for a charge of 0 to 1, held at the ends of the table. */
export function densityFromCharge(charge: number): number {
  return interpolate(TABLE_CHARGES, TABLE_DENSITIES, charge);
}

/**
 * Rested open-circuit voltage for a density, off charge for more than 16 h.
 *
 * @param cellOffsetV one of `CELL_OFFSETS_V`: the published values differ by 5 mV a cell
 */
export function restVoltageFromDensityV(
  density: number,
  systemV: SystemVoltage,
  cellOffsetV: number = CELL_OFFSETS_V[0],
): number {
  return (systemV / 2) * (density + cellOffsetV);
}
