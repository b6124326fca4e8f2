/** Numbers as charts write them: rounded to what is known, the language's decimal mark, a no-break space before the unit. */
import type { Unit } from '../../measures/limit.ts';
import type { Ticks } from './ticks.ts';
import type { Words } from './words.ts';

const NBSP = '\u00a0';

/** Unit to show and what to multiply the SI value by. */
export interface Shown {
  readonly unit: string;
  readonly factor: number;
}

/** A unit that suits values of about `size` (in `unit`). Space before every unit, % too: NIST SP 811, 7.2. */
export function shownAs(unit: Unit, size: number, words: Words): Shown {
  const value = Math.abs(size);
  switch (unit) {
    case 'A':
      return value < 1 ? { unit: 'mA', factor: 1000 } : { unit: 'A', factor: 1 };
    case 'Ω':
      return { unit: 'mΩ', factor: 1000 };
    case 's':
      if (value < 100) return { unit: 's', factor: 1 };
      if (value < 7200) return { unit: 'min', factor: 1 / 60 };
      return value < 2 * 86_400
        ? { unit: 'h', factor: 1 / 3600 }
        : { unit: words.say('unit.days'), factor: 1 / 86_400 };
    case 'd':
      return { unit: words.say('unit.days'), factor: 1 };
    case '1':
      return { unit: '%', factor: 100 };
    default:
      return { unit, factor: 1 };
  }
}

/** `decimals` digits after the mark; a true minus sign. */
export function fixed(value: number, decimals: number, words: Words): string {
  const digits = Math.abs(value).toFixed(decimals).replace('.', words.decimalMark);
  return value < 0 && /[1-9]/.test(digits) ? `−${digits}` : digits;
}

/** At most three (or `digits`) significant digits after the point and no needless zeros: `0.12`, `14.2`, `1240`. */
export function short(value: number, words: Words, digits = 3): string {
  if (value === 0) return '0';
  const decimals = Math.max(0, digits - 1 - Math.floor(Math.log10(Math.abs(value))));
  return fixed(Number(value.toFixed(decimals)), decimalsOf(Number(value.toFixed(decimals))), words);
}

const decimalsOf = (value: number) => (String(value).split('.')[1] ?? '').length;

/** Ticks of one axis, all to the same number of decimals. */
export function tickLabels(values: readonly number[], words: Words): readonly string[] {
  const decimals = Math.max(...values.map(decimalsOf));
  return values.map((value) => fixed(value, decimals, words));
}

/** An axis of plain numbers. */
export const numberTicks = (values: readonly number[], words: Words): Ticks => ({
  values,
  labels: tickLabels(values, words),
});

/** `62 mA`, with the unit that suits the value. */
export function quantity(value: number, unit: Unit, words: Words): string {
  const shown = shownAs(unit, value, words);
  return `${short(value * shown.factor, words)}${NBSP}${shown.unit}`;
}

/** What is written beside a limit, in two lines; `value` in the SI `unit`. */
export const limitWords = (value: number, unit: Unit, words: Words): readonly [string, string] => [
  words.say('mark.limit'),
  quantity(value, unit, words),
];

/**
 * `62 mA ± 3 mA`, each number with its unit as NIST SP 811, 7.7 wants: the uncertainty to one digit (two where the first
 * is 1, as everywhere in the report), the value to the same place.
 */
export function quantityPm(value: number, uncertainty: number | null, unit: Unit, words: Words): string {
  if (uncertainty === null || !(uncertainty > 0 && Number.isFinite(uncertainty))) return quantity(value, unit, words);
  const shown = shownAs(unit, value, words);
  const u = uncertainty * shown.factor;
  const [digits = '', exponent] = u.toExponential(11).split('e');
  const decimals = Math.max(0, (digits.startsWith('1') ? 1 : 0) - Number(exponent));
  const inUnit = (number: number) => `${fixed(number, decimals, words)}${NBSP}${shown.unit}`;
  return `${inUnit(value * shown.factor)}${NBSP}±${NBSP}${inUnit(u)}`;
}

/** From one end to the other, as people say it: `0–4 d`. */
export function quantityRange(low: number, high: number, unit: Unit, words: Words): string {
  const shown = shownAs(unit, high, words);
  const decimals = high * shown.factor < 2 ? 1 : 0;
  const number = (value: number) => fixed(Math.max(0, value * shown.factor), decimals, words);
  return `${number(low)}–${number(high)}${NBSP}${shown.unit}`;
}

/** For data inside specs: significant digits that a picture can show, so that specs stay small and repeatable. */
export function rounded(value: number, digits = 5): number {
  return Number(value.toPrecision(digits));
}
