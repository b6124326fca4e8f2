/**
 * Everything that is written for people: numbers with units, durations, dates. The only place that rounds for display.
 * Spacing as NIST SP 811 §7.2 lays down (a space before the unit, °C and % too), as a no-break space so that a line never
 * parts a number from its unit. Digits are grouped by a space from five digits on (SP 811 §10.5.3).
 */
import type { Unit } from '../../measures/limit.ts';
import { makeDurations } from './durations.ts';
import { makeMoments, type Zone } from './moments.ts';
import {
  isKnown,
  type Maybe,
  type Measure,
  makeFixed,
  makeMeasures,
  measureWith,
  NBSP,
  significant,
} from './numbers.ts';

export interface Format {
  /** Significant figures follow the value; with an expanded uncertainty the value is rounded to it. All take SI. */
  A(valueA: Maybe, uncertaintyA?: Maybe): string;
  mA(valueA: Maybe, uncertaintyA?: Maybe): string;
  V(valueV: Maybe, uncertaintyV?: Maybe): string;
  Ah(valueAh: Maybe, uncertaintyAh?: Maybe): string;
  mohm(valueOhm: Maybe, uncertaintyOhm?: Maybe): string;
  /** Takes a fraction, 0 to 1. */
  percent(fraction: Maybe, uncertainty?: Maybe): string;
  temp(valueC: Maybe, uncertaintyC?: Maybe): string;
  /** Takes seconds, as do `days`. */
  duration(seconds: Maybe, uncertaintyS?: Maybe): string;
  days(seconds: Maybe, uncertaintyS?: Maybe): string;
  dayRange(lowS: number, highS: number): string;
  /** Take seconds since the epoch (UTC) and write local time. */
  time(epochS: Maybe): string;
  date(epochS: Maybe): string;
  weekday(epochS: Maybe): string;
  dateTime(epochS: Maybe): string;
  /** Without the year, for tables. */
  moment(epochS: Maybe): string;
  number(value: Maybe, digits?: number): string;
  count(n: Maybe, one: string, many: string): string;
  /** A value in the unit that a check states: amperes below 1 A are written in mA, ohms in mΩ, a fraction as %. */
  quantity(value: Maybe, unit: Unit, uncertainty?: Maybe): string;
  /** A limit: without padding zeros, at most two decimals. */
  limit(value: number, unit: Unit): string;
  bytes(n: number): string;
}

/**
 * @param locale BCP 47 tag; decides the decimal sign, the names of months and the order of a date.
 * @param zone local time; days and hours are written in it.
 * @param unknown what is written for a value that is null or not a number.
 */
export function makeFormat(locale: string, zone: Zone, unknown = 'not known'): Format {
  const fixed = makeFixed(locale);
  const measure = measureWith(fixed, unknown);
  const measures = makeMeasures(measure);
  const durations = makeDurations(locale, fixed, measure, unknown);
  const { A, mA, V, Ah, mohm, temp, percent } = measures;
  const { duration, days } = durations;

  const number = (value: Maybe, digitsAfter?: number): string =>
    isKnown(value) ? fixed(value, digitsAfter ?? significant(value, 3, 6), digitsAfter === undefined) : unknown;
  const count = (n: Maybe, one: string, many: string): string =>
    isKnown(n) ? `${number(n, 0)}${NBSP}${n === 1 ? one : many}` : `${unknown} ${many}`;

  const inSeconds = (value: Maybe) => (isKnown(value) ? value * 86_400 : value);
  const writers: Readonly<Record<Unit, Measure>> = {
    A: (value, uncertainty) => (isKnown(value) && Math.abs(value) >= 1 ? A : mA)(value, uncertainty),
    V,
    Ah,
    Ω: mohm,
    '°C': temp,
    '1': percent,
    s: duration,
    d: (value, uncertainty) => days(inSeconds(value), inSeconds(uncertainty)),
  };
  const quantity = (value: Maybe, unit: Unit, uncertainty?: Maybe) => writers[unit](value, uncertainty);

  const limit = (value: number, unit: Unit): string => {
    const exact = (scale: number, written: string) => `${fixed(value * scale, 2, true)}${NBSP}${written}`;
    if (unit === 'A') return value < 1 ? exact(1000, 'mA') : exact(1, 'A');
    if (unit === 'Ω') return exact(1000, 'mΩ');
    if (unit === '1') return exact(100, '%');
    // No table of the trade knows a temperature to a hundredth.
    if (unit === '°C') return `${fixed(value, 1, true)}${NBSP}°C`;
    return unit === 's' || unit === 'd' ? quantity(value, unit) : exact(1, unit);
  };
  const bytes = (n: number): string => {
    if (n < 1000) return `${n}${NBSP}B`;
    return n < 1e6 ? `${fixed(n / 1e3, 0)}${NBSP}kB` : `${fixed(n / 1e6, 1)}${NBSP}MB`;
  };

  return { ...measures, ...durations, ...makeMoments(locale, zone, unknown), number, count, quantity, limit, bytes };
}

/** As people say it: values rounded to their uncertainty, without it; times in hours and minutes. */
export function spoken(format: Format): Format {
  const rounded = (write: (value: Maybe, uncertainty?: Maybe) => string) => (value: Maybe, uncertainty?: Maybe) =>
    write(value, uncertainty).split(`${NBSP}±`)[0] ?? '';
  const { A, mA, Ah, mohm, percent, temp, duration, days } = format;
  // Nobody says more of a battery's voltage than hundredths.
  const V = (value: Maybe, uncertainty?: Maybe) =>
    format.V(value, isKnown(value) && Math.abs(value) >= 1 && (uncertainty ?? 1) < 0.02 ? null : uncertainty);
  return {
    ...format,
    A: rounded(A),
    mA: rounded(mA),
    V: rounded(V),
    Ah: rounded(Ah),
    mohm: rounded(mohm),
    percent: rounded(percent),
    temp: rounded(temp),
    days: rounded(days),
    duration: rounded(duration),
    quantity: (value, unit, uncertainty) =>
      (unit === 'V' ? V(value, uncertainty) : format.quantity(value, unit, uncertainty)).split(`${NBSP}±`)[0] ?? '',
  };
}
