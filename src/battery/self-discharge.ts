/** What a battery loses by standing, with nothing connected. */
import type { Chemistry, Range } from './chemistry.ts';
import { TABLE_DENSITIES } from './density.ts';
import { extrapolate } from './interpolation.ts';

/**
 * Density lost a day by temperature, °C. Source: US Army TM 9-6140-200-14, §4-8 (seen).
 * Doubles each 8 to 10 °C, which is what the straight lines over its logarithm below amount to, also beyond its ends.
 */
export const LOSS_TEMPERATURES_C: readonly number[] = [10, 27, 38];
export const DENSITY_LOSS_PER_DAY: readonly number[] = [0.0003, 0.001, 0.0025];

const FULL_TO_EMPTY = TABLE_DENSITIES[4] - TABLE_DENSITIES[0];

/**
 * Loss of the batteries of today beside those of the table, which had antimony in their plates: 2 % a month at 25 °C for AGM (a
 * battery maker's support page, seen), 3 % taken, against the table's 18 %. lfp: 2 % (a battery maker's page, second-hand).
 */
const NEWER_SHARE = 1 / 6;

/**
 * Share of the full charge lost a day, 0 to 1. For flooded, `low` is a newer make and `high` the published table; for
 * the other chemistries `high` is half of the table (ours: room for age between what is from memory and what was seen).
 */
export function selfDischargePerDay(chemistry: Chemistry, temperatureC: number): Range {
  const logLoss = extrapolate(LOSS_TEMPERATURES_C, DENSITY_LOSS_PER_DAY.map(Math.log), temperatureC);
  const table = Math.exp(logLoss) / FULL_TO_EMPTY;
  return { low: table * NEWER_SHARE, high: chemistry === 'flooded' ? table : table / 2 };
}
