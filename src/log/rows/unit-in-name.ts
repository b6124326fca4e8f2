/** The unit that a column's name states: `IBat [mA]`, `Batt (V)`, `temp_c`, `I/mA`, `Strom in A`, `batteryMv`. */

export type NamedUnit = 'V' | 'mV' | 'A' | 'mA' | '°C' | '°F' | 'K';

const UNITS: Readonly<Record<string, NamedUnit>> = {
  v: 'V',
  volt: 'V',
  volts: 'V',
  mv: 'mV',
  millivolt: 'mV',
  millivolts: 'mV',
  a: 'A',
  amp: 'A',
  amps: 'A',
  ampere: 'A',
  amperes: 'A',
  ma: 'mA',
  milliamp: 'mA',
  milliamps: 'mA',
  milliampere: 'mA',
  c: '°C',
  '°c': '°C',
  degc: '°C',
  celsius: '°C',
  f: '°F',
  '°f': '°F',
  degf: '°F',
  fahrenheit: '°F',
  k: 'K',
  kelvin: 'K',
};

const DIMENSIONS: readonly (readonly NamedUnit[])[] = [
  ['V', 'mV'],
  ['A', 'mA'],
  ['°C', '°F', 'K'],
];

export interface UnitInName {
  readonly unit: NamedUnit;
  /** Stands in brackets, as nothing but a unit does. */
  readonly bracketed: boolean;
}

/** Undefined where the name states none. */
export function unitInName(name: string): UnitInName | undefined {
  const bracketed = /[[(<{]\s*([^\])>}]+?)\s*[\])>}]\s*$/.exec(name)?.[1];
  const inBrackets = unitOf(bracketed);
  if (inBrackets !== undefined) return { unit: inBrackets, bracketed: true };
  const last =
    /[_\s/.,:-]([a-z°]+)\s*$/i.exec(name)?.[1] ?? /[a-z]((?:m|M)?[AV]|M[av]|[CFK]|Volts?|Amps?)$/.exec(name)?.[1];
  const unit = unitOf(last);
  return unit === undefined ? undefined : { unit, bracketed: false };
}

/** The unit that a cell holds and nothing else, as rows of units below a header have it. */
export function unitOf(text: string | undefined): NamedUnit | undefined {
  const key = text?.normalize('NFKC').trim().toLowerCase() ?? '';
  return Object.hasOwn(UNITS, key) ? UNITS[key] : undefined;
}

/**
 * What the name states, where the manifest says something else. `phase_a` is no ampere of a voltage: without brackets a
 * letter counts only against another unit of the same quantity.
 */
export function contradicts(name: string, unit: string): NamedUnit | undefined {
  const stated = unitInName(name);
  if (stated === undefined || stated.unit === unit) return undefined;
  const same = DIMENSIONS.some((units) => units.includes(stated.unit) && (units as readonly string[]).includes(unit));
  return same || stated.bracketed ? stated.unit : undefined;
}
