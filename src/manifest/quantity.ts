/** Quantities as people write them: a number, then a unit. One table says which units each dimension takes. */
import { nearest } from '../base/nearest.ts';
import { UserError } from '../base/problem.ts';
import { orList, shown } from '../base/shown.ts';
import { there } from '../base/there.ts';
import type { Accuracy } from '../battery/uncertainty.ts';
import { meant, UNITS_SAID_AS } from './said-as.ts';

export type Dimension = keyof typeof DIMENSIONS;

interface DimensionRow {
  /** With its article, for messages. */
  readonly noun: string;
  readonly example: string;
  /** Factor to the unit that `parseQuantity` returns; the units shown in messages. */
  readonly units: Readonly<Record<string, number>>;
  /** Other spellings that are taken. */
  readonly also?: Readonly<Record<string, string>>;
}

const DIMENSIONS = {
  current: { noun: 'a current', example: '50 mA', units: { A: 1, mA: 1e-3, µA: 1e-6 }, also: { uA: 'µA' } },
  voltage: { noun: 'a voltage', example: '12.5 V', units: { V: 1, mV: 1e-3 } },
  charge: { noun: 'a charge', example: '70 Ah', units: { Ah: 1, mAh: 1e-3 } },
  duration: {
    noun: 'a duration',
    example: '45 min',
    units: { ms: 1e-3, s: 1, min: 60, h: 3600, d: 86_400 },
    also: { sec: 's', hour: 'h', hours: 'h', minutes: 'min', day: 'd', days: 'd' },
  },
  distance: { noun: 'a distance', example: '84210 km', units: { km: 1, mi: 1.609344 }, also: { miles: 'mi' } },
  fraction: { noun: 'a share', example: '80 %', units: { '%': 0.01 } },
  temperature: {
    noun: 'a temperature',
    example: '20 °C',
    units: { '°C': 1, '°F': 5 / 9, K: 1 },
    also: { C: '°C', F: '°F' },
  },
  size: {
    noun: 'a size',
    example: '2 GB',
    units: { B: 1, kB: 1e3, MB: 1e6, GB: 1e9, TB: 1e12, KiB: 2 ** 10, MiB: 2 ** 20, GiB: 2 ** 30 },
    also: { KB: 'kB' },
  },
} as const satisfies Record<string, DimensionRow>;

/** °C at the zero of each unit. */
const TEMPERATURE_ZERO_C: Readonly<Record<string, number>> = { '°C': 0, '°F': -160 / 9, K: -273.15 };

/**
 * Reads `50 mA`, `100ms`, `-5 °C`, `84 210 km`, `1 h 30 min` (durations only). Decimal point or comma; where a comma could
 * also part thousands (`1,234 km`) it is refused.
 * Returns A, V, Ah, s, km, a fraction of 1, °C or bytes. Throws UserError saying what was found and which units are taken.
 */
export function parseQuantity(text: string, dimension: Dimension): number {
  const clean = tidy(text);
  const pairs = dimension === 'duration' ? clean.split(/(?<=\p{L})\s+(?=\d)/u) : [clean];
  if (pairs.length > 3) throw new UserError(quantityFault(text, dimension));
  const values = pairs.map((pair) => parsePair(pair, dimension));
  if (values.length > 1 && values.some((value) => value < 0)) throw new UserError(quantityFault(text, dimension));
  return values.reduce((sum, value) => sum + value, 0);
}

/** `a current in A, mA or µA, such as "50 mA"`, for messages and help. */
export function unitsTaken(dimension: Dimension): string {
  const { noun, units, example } = row(dimension);
  return `${noun} in ${orList(Object.keys(units))}, such as "${example}"`;
}

/** Regular expression, as JSON Schema takes it, of accepted texts; for editors, so without look-alike characters. */
export function unitPattern(dimension: Dimension): string {
  const { units, also = {} } = row(dimension);
  return `[0-9]\\s*(${[...Object.keys(units), ...Object.keys(also)].join('|')})\\s*$`;
}

/** The message for a value where a quantity was wanted and something other than text was found. */
export function quantityFault(found: unknown, dimension: Dimension): string {
  if (typeof found === 'number') return `Found ${found} without a unit. Expected: ${unitsTaken(dimension)}.`;
  return `Found ${shown(found)}. Expected: ${unitsTaken(dimension)}.`;
}

/**
 * Reads a maker's accuracy, `0.1 % + 10 mV`: a share of the reading, a fixed part, or both, in either order, `±` or not.
 * The fixed part comes in V, A or K. Throws UserError.
 */
export function parseAccuracy(text: string, dimension: 'voltage' | 'current' | 'temperature'): Accuracy {
  const accuracy = { relative: 0, absolute: 0 };
  const seen = new Set<string>();
  for (const term of tidy(text).replace(/^± ?/, '').split('+')) {
    const { number, unit } = splitPair(term.trim(), dimension, accuracyTaken(dimension));
    const part = unit === '%' ? 'relative' : 'absolute';
    if (seen.has(part) || number < 0)
      throw new UserError(`Found ${shown(text)}. Expected: ${accuracyTaken(dimension)}.`);
    seen.add(part);
    accuracy[part] = part === 'relative' ? number / 100 : scaled(number, unit, dimension, accuracyTaken(dimension));
  }
  if (accuracy.relative === 0 && accuracy.absolute === 0) {
    throw new UserError(`Found ${shown(text)}, but no instrument is exact. Expected: ${accuracyTaken(dimension)}.`);
  }
  return accuracy;
}

export function accuracyTaken(dimension: 'voltage' | 'current' | 'temperature'): string {
  const fixed = { voltage: '10 mV', current: '5 mA', temperature: '1 °C' }[dimension];
  return `an accuracy as a share of the reading, a fixed part, or both, such as "0.1 % + ${fixed}"`;
}

function parsePair(pair: string, dimension: Dimension): number {
  const taken = unitsTaken(dimension);
  const { number, unit, digits } = splitPair(pair, dimension, taken);
  // Nobody notes metres of an odometer: the point parts thousands there, or it is a slip.
  if (dimension === 'distance' && /^\d{1,3}\.\d{3}$/.test(digits)) throw ambiguous(digits, unit);
  const value = scaled(number, unit, dimension, taken);
  return dimension === 'temperature' ? value + there(TEMPERATURE_ZERO_C[unit]) : value;
}

function splitPair(
  pair: string,
  dimension: Dimension,
  taken: string,
): { number: number; unit: string; digits: string } {
  const match = /^([+-]?)(\d{1,3}(?: \d{3})+(?:[.,]\d+)?|\d*[.,]?\d+) ?([^\d\s.,+-]\D{0,15})?$/u.exec(pair);
  if (match === null) throw new UserError(`Found ${shown(pair)}. Expected: ${taken}.`);
  const [, sign, digits = '', unit] = match;
  if (unit === undefined) throw new UserError(`Found ${shown(pair)} without a unit. Expected: ${taken}.`);
  if (/^[1-9]\d{0,2},\d{3}$/.test(digits)) throw ambiguous(digits, unit);
  const number = Number(digits.replaceAll(' ', '').replace(',', '.'));
  return { number: sign === '-' ? 0 - number : number, unit: spelled(unit, dimension), digits };
}

function scaled(number: number, unit: string, dimension: Dimension, taken: string): number {
  const { units } = row(dimension);
  const factor = Object.hasOwn(units, unit) ? units[unit] : undefined;
  if (factor !== undefined) {
    // 7 × 0.01 is not 0.07, but 7 ÷ 100 is.
    const inverse = 1 / factor;
    return Number.isInteger(inverse) ? number / inverse : number * factor;
  }
  const other = (Object.keys(DIMENSIONS) as Dimension[]).find((name) => Object.hasOwn(row(name).units, unit));
  if (other !== undefined) throw new UserError(`Found ${row(other).noun} (${unit}). Expected: ${taken}.`);
  const near = meant(unit, saidOf(dimension)) ?? nearest(unit, Object.keys(units));
  throw new UserError(`Unknown unit ${shown(unit)}.${near ? ` Did you mean ${near}?` : ''} Expected: ${taken}.`);
}

const saidOf = (dimension: Dimension) =>
  dimension === 'voltage' || dimension === 'current' ? UNITS_SAID_AS[dimension] : undefined;

function spelled(unit: string, dimension: Dimension): string {
  const also = row(dimension).also ?? {};
  return Object.hasOwn(also, unit) ? there(also[unit]) : unit;
}

function row(dimension: Dimension): DimensionRow {
  return DIMENSIONS[dimension];
}

function ambiguous(digits: string, unit: string): UserError {
  const joined = digits.replace(/[.,]/, '');
  // A nought at the end can go; otherwise one more tells it from thousands.
  const point = digits.replace(',', '.');
  const decimal = point.endsWith('0') ? point.slice(0, -1) : `${point}0`;
  return new UserError(
    `"${digits} ${unit}" can be read in two ways. Write "${joined} ${unit}" or "${decimal} ${unit}".`,
  );
}

/** One spelling for look-alikes: no-break spaces, `℃`, the two micro signs, the minus sign. */
function tidy(text: string): string {
  return text.normalize('NFKC').replace(/\s+/g, ' ').replaceAll('\u03bc', 'µ').replaceAll('\u2212', '-').trim();
}
