/**
 * Where the figures of one vehicle lie among others of its model. What lies outside the normal range is unusual, with the
 * probability; it is no fault.
 */
import { perTwelveVolt, type SystemVoltage } from '../../battery/chemistry.ts';
import { chanceOf, type NormalRange, normalRange } from '../../battery/tolerance.ts';
import { type ModelValue, valueKey } from './values.ts';

/** Vehicles alike differ by this much at least, of draws, lengths and charges; V for each 12 V. Common practice, no source. */
const LEAST_SHARE = 0.03;
const LEAST_V = 0.02;

/** One figure of one vehicle, held against the others. */
export interface Placed extends ModelValue {
  readonly range: NormalRange;
  /** Null where too few vehicles were seen for one. */
  readonly chance: number | null;
  /** False where too few were seen to say so. */
  readonly isOutside: boolean;
}

/** Of which vehicles differ by factors rather than by amounts. */
const byFactors = (unit: ModelValue['unit'], values: readonly number[]) =>
  (unit === 'A' || unit === 's' || unit === 'Ah') && values.every((value) => value > 0);

/** The range of a figure; null where no vehicle has it. */
export function rangeOf(
  { unit }: Pick<ModelValue, 'unit'>,
  values: readonly number[],
  systemV: SystemVoltage,
): NormalRange | null {
  if (values.length === 0) return null;
  const factors = byFactors(unit, values);
  return normalRange(values, leastSd(unit, values, systemV, factors), factors);
}

function leastSd(
  unit: ModelValue['unit'],
  values: readonly number[],
  systemV: SystemVoltage,
  factors: boolean,
): number {
  if (factors) return LEAST_SHARE;
  if (unit === 'V') return LEAST_V * perTwelveVolt(systemV);
  return LEAST_SHARE * Math.max(...values.map(Math.abs));
}

/**
 * The most unusual first; a figure that no other vehicle has is left out.
 *
 * @param others values of each other vehicle
 */
export function placesOf(
  own: readonly ModelValue[],
  others: readonly (readonly ModelValue[])[],
  systemV: SystemVoltage,
): Placed[] {
  return own
    .flatMap((value) => {
      const theirs = valuesOf(others, valueKey(value));
      const range = rangeOf(value, theirs, systemV);
      if (!range) return [];
      const isKnown = range.method !== 'seen';
      const factors = byFactors(value.unit, [value.value, ...theirs]);
      const logs = factors ? theirs.map(Math.log) : theirs;
      const at = factors ? Math.log(value.value) : value.value;
      const chance = isKnown ? chanceOf(at, logs, leastSd(value.unit, theirs, systemV, factors)) : null;
      const isOutside = isKnown && (value.value < range.low || value.value > range.high);
      return [{ ...value, range, chance, isOutside }];
    })
    .sort((a, b) => (a.chance ?? 1) - (b.chance ?? 1));
}

/** Values of a figure, one of each vehicle that has it. */
export function valuesOf(vehicles: readonly (readonly ModelValue[])[], key: string): number[] {
  return vehicles.flatMap((values) => {
    const found = values.find((value) => valueKey(value) === key);
    return found ? [found.value] : [];
  });
}

/** Where it lies in its range: 0 its least, 1 its most; what differs by factors is measured in factors. */
export function alongRange({
  unit,
  value,
  low,
  high,
}: Pick<ModelValue, 'unit' | 'value'> & { low: number; high: number }): number {
  const scale = byFactors(unit, [value, low, high]) ? Math.log : (x: number) => x;
  const width = scale(high) - scale(low);
  if (width > 0) return (scale(value) - scale(low)) / width;
  return value === low ? 0.5 : value < low ? -1 : 2;
}
