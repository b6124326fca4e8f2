/** Numbers for people, in a language's own signs, and rounded to what is known of them. */

export type Maybe = number | null | undefined;

export const NBSP = '\u00a0';
const GROUP = '\u202f';

export const isKnown = (value: Maybe): value is number => typeof value === 'number' && Number.isFinite(value);

/** Writes a number to so many decimals; `trim` leaves out noughts at its end. Negative decimals round to tens, hundreds. */
export type Fixed = (value: number, decimals: number, trim?: boolean) => string;

export function makeFixed(locale: string): Fixed {
  // One writer for each number of decimals: making one costs far more than using it.
  const writers = new Map<string, Intl.NumberFormat>();
  const writerOf = (least: number, most: number): Intl.NumberFormat => {
    const made = writers.get(`${least} ${most}`);
    if (made) return made;
    const writer = new Intl.NumberFormat(locale, {
      minimumFractionDigits: least,
      maximumFractionDigits: most,
      signDisplay: 'negative',
      numberingSystem: 'latn',
    });
    writers.set(`${least} ${most}`, writer);
    return writer;
  };
  return (value, decimals, trim = false) => {
    const places = Math.min(20, Math.max(0, decimals));
    const parts = writerOf(trim ? 0 : places, places).formatToParts(decimals < 0 ? roundTo(value, decimals) : value);
    const whole = parts.filter((part) => part.type === 'integer').map((part) => part.value);
    const grouped = whole.join(whole.join('').length > 4 ? GROUP : '');
    const rest = parts.filter((part) => part.type === 'decimal' || part.type === 'fraction').map((part) => part.value);
    return `${parts[0]?.type === 'minusSign' ? '\u2212' : ''}${grouped}${rest.join('')}`;
  };
}

/** Writes a quantity of SI in its unit, rounded to its expanded uncertainty where that is given. */
export type Measure = (valueSi: Maybe, uncertaintySi?: Maybe) => string;

/**
 * @param scale turns SI into the unit written
 * @param plain gives the decimals where there is no uncertainty to round to
 */
export type MakeMeasure = (unit: string, scale: number, plain: (value: number) => number) => Measure;

export function measureWith(fixed: Fixed, unknown: string): MakeMeasure {
  return (unit, scale, plain) => (valueSi, uncertaintySi) => {
    if (!isKnown(valueSi)) return unknown;
    const value = valueSi * scale;
    if (!isKnown(uncertaintySi) || uncertaintySi <= 0) return `${fixed(value, plain(value))}${NBSP}${unit}`;
    const spread = uncertaintySi * scale;
    const decimals = decimalsFor(spread);
    return `${fixed(value, decimals)}${NBSP}${unit} ±${NBSP}${fixed(spread, decimals)}${NBSP}${unit}`.replace(
      ' ',
      NBSP,
    );
  };
}

/** Each quantity of the report in the unit that people use for it. */
export function makeMeasures(measure: MakeMeasure) {
  const share = measure('%', 100, (value) => (Math.abs(value) < 1 ? significant(value, 1, 2) : 0));
  return {
    mA: measure('mA', 1000, (value) => (Math.abs(value) < 10 ? 1 : 0)),
    A: measure('A', 1, (value) => significant(value, 3, 2)),
    V: measure('V', 1, () => 2),
    Ah: measure('Ah', 1, (value) => significant(value, 3, 2)),
    mohm: measure('mΩ', 1000, (value) => significant(value, 3, 1)),
    temp: measure('°C', 1, () => 0),
    percent: (fraction: Maybe, uncertainty?: Maybe): string => {
      const tiny = isKnown(fraction) && fraction > 0 && fraction < 0.00005 && !uncertainty;
      return tiny ? `<${NBSP}${share(0.0001)}` : share(fraction, uncertainty);
    },
  };
}

/**
 * Decimals to which an uncertainty, and so its value, is written: one significant digit, two where the first is 1 (JCGM 100,
 * 7.2.6 allows at most two). Negative: tens, hundreds.
 */
export function decimalsFor(uncertainty: number): number {
  const [digits, exponent] = uncertainty.toExponential(11).split('e');
  return (digits?.startsWith('1') ? 1 : 0) - Number(exponent);
}

/** Decimals that show `figures` significant figures of a value, at most `most`. */
export function significant(value: number, figures: number, most: number): number {
  if (value === 0) return 0;
  const exponent = Number(
    Math.abs(value)
      .toExponential(figures - 1)
      .split('e')[1],
  );
  return Math.min(most, Math.max(0, figures - 1 - exponent));
}

export function roundTo(value: number, decimals: number): number {
  const scale = 10 ** decimals;
  return Math.round(value * scale) / scale;
}
