/**
 * Everything that is written for people: numbers with units, durations, dates. The only place that rounds for display.
 * Spacing as NIST SP 811 §7.2 lays down (a space before the unit, °C and % too), as a no-break space so that a line never
 * parts a number from its unit. Digits are grouped by a space from five digits on (SP 811 §10.5.3).
 */
import type { Unit } from '../../measures/limit.ts';

/** Offset of local time from UTC at a moment; `zoneOf` of `manifest/zone.ts` gives one. */
export interface Zone {
  offsetMs(utcMs: number): number;
}

type Maybe = number | null | undefined;

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
  /** Take seconds since the epoch (UTC) and write local time. */
  time(epochS: Maybe): string;
  date(epochS: Maybe): string;
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

const NBSP = '\u00a0';
const GROUP = '\u202f';

/**
 * @param locale BCP 47 tag; decides the decimal sign, the names of months and the order of a date.
 * @param zone local time; days and hours are written in it.
 * @param unknown what is written for a value that is null or not a number.
 */
export function makeFormat(locale: string, zone: Zone, unknown = 'not known'): Format {
  const known = (value: Maybe): value is number => typeof value === 'number' && Number.isFinite(value);
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
  const fixed = (value: number, decimals: number, trim = false): string => {
    const places = Math.min(20, Math.max(0, decimals));
    const parts = writerOf(trim ? 0 : places, places).formatToParts(decimals < 0 ? roundTo(value, decimals) : value);
    const whole = parts.filter((part) => part.type === 'integer').map((part) => part.value);
    const grouped = whole.join(whole.join('').length > 4 ? GROUP : '');
    const rest = parts.filter((part) => part.type === 'decimal' || part.type === 'fraction').map((part) => part.value);
    return `${parts[0]?.type === 'minusSign' ? '\u2212' : ''}${grouped}${rest.join('')}`;
  };

  /** `scale` turns SI into the unit written; `plain` gives the decimals where there is no uncertainty to round to. */
  const measure = (unit: string, scale: number, plain: (value: number) => number) => {
    return (valueSi: Maybe, uncertaintySi?: Maybe): string => {
      if (!known(valueSi)) return unknown;
      const value = valueSi * scale;
      if (!known(uncertaintySi) || uncertaintySi <= 0) return `${fixed(value, plain(value))}${NBSP}${unit}`;
      const spread = uncertaintySi * scale;
      const decimals = decimalsFor(spread);
      return `${fixed(value, decimals)}${NBSP}${unit} ±${NBSP}${fixed(spread, decimals)}${NBSP}${unit}`.replace(
        ' ',
        NBSP,
      );
    };
  };

  const mA = measure('mA', 1000, (value) => (Math.abs(value) < 10 ? 1 : 0));
  const A = measure('A', 1, (value) => significant(value, 3, 2));
  const V = measure('V', 1, () => 2);
  const Ah = measure('Ah', 1, (value) => significant(value, 3, 2));
  const mohm = measure('mΩ', 1000, (value) => significant(value, 3, 1));
  const share = measure('%', 100, (value) => (Math.abs(value) < 1 ? significant(value, 1, 2) : 0));
  const percent = (fraction: Maybe, uncertainty?: Maybe): string => {
    const tiny = known(fraction) && fraction > 0 && fraction < 0.00005 && !uncertainty;
    return tiny ? `<${NBSP}${share(0.0001)}` : share(fraction, uncertainty);
  };
  const temp = measure('°C', 1, () => 0);
  const inUnit = {
    s: measure('s', 1, (value) => (Math.abs(value) < 10 ? 1 : 0)),
    min: measure('min', 1 / 60, () => 0),
    h: measure('h', 1 / 3600, (value) => (Math.abs(value) < 10 ? 1 : 0)),
  };

  const dayCount = (value: number, decimals: number): string => {
    const rounded = roundTo(value, decimals);
    const words = new Intl.NumberFormat(locale, { style: 'unit', unit: 'day', unitDisplay: 'long' }).formatToParts(
      rounded,
    );
    return `${fixed(rounded, decimals)}${NBSP}${words.find((part) => part.type === 'unit')?.value ?? 'd'}`;
  };
  const days = (seconds: Maybe, uncertaintyS?: Maybe): string => {
    if (!known(seconds)) return unknown;
    const value = seconds / 86_400;
    if (!known(uncertaintyS) || uncertaintyS <= 0) return dayCount(value, value < 10 && value % 1 !== 0 ? 1 : 0);
    const spread = uncertaintyS / 86_400;
    return `${dayCount(value, decimalsFor(spread))}${NBSP}±${NBSP}${dayCount(spread, decimalsFor(spread))}`;
  };

  const duration = (seconds: Maybe, uncertaintyS?: Maybe): string => {
    if (!known(seconds)) return unknown;
    if (known(uncertaintyS) && uncertaintyS > 0) {
      if (seconds < 120) return inUnit.s(seconds, uncertaintyS);
      if (seconds < 7200) return inUnit.min(seconds, uncertaintyS);
      return seconds < 172_800 ? inUnit.h(seconds, uncertaintyS) : days(seconds, uncertaintyS);
    }
    if (seconds < 59.5) return `${fixed(seconds, seconds < 9.95 ? 1 : 0, true)}${NBSP}s`;
    if (seconds < 600) return pair(seconds, 60, 'min', 1, 's');
    if (seconds < 3570) return inUnit.min(seconds);
    if (seconds < 172_800) return pair(seconds, 3600, 'h', 60, 'min');
    const hours = Math.round(seconds / 3600);
    const rest = hours % 24 ? `${NBSP}${hours % 24}${NBSP}h` : '';
    return `${dayCount(Math.floor(hours / 24), 0)}${rest}`;
  };

  const local = (epochS: number): Date => new Date(epochS * 1000 + zone.offsetMs(epochS * 1000));
  const clock = new Intl.DateTimeFormat(locale, {
    timeZone: 'UTC',
    hour: '2-digit',
    minute: '2-digit',
    hourCycle: 'h23',
  });
  const calendar = new Intl.DateTimeFormat(locale, {
    timeZone: 'UTC',
    weekday: 'short',
    day: 'numeric',
    month: 'short',
    year: 'numeric',
  });
  const dayOnly = new Intl.DateTimeFormat(locale, {
    timeZone: 'UTC',
    weekday: 'short',
    day: 'numeric',
    month: 'short',
  });
  const time = (epochS: Maybe): string => (known(epochS) ? clock.format(local(epochS)) : unknown);
  const unbroken = (text: string): string => text.replaceAll(/[\s\u202f]/g, NBSP).replace(`,${NBSP}`, NBSP);
  const date = (epochS: Maybe): string => (known(epochS) ? unbroken(calendar.format(local(epochS))) : unknown);
  const moment = (epochS: Maybe): string =>
    known(epochS) ? `${unbroken(dayOnly.format(local(epochS)))}, ${time(epochS)}` : unknown;
  const dateTime = (epochS: Maybe): string => (known(epochS) ? `${date(epochS)}, ${time(epochS)}` : unknown);

  const number = (value: Maybe, digitsAfter?: number): string =>
    known(value) ? fixed(value, digitsAfter ?? significant(value, 3, 6), digitsAfter === undefined) : unknown;
  const count = (n: Maybe, one: string, many: string): string =>
    known(n) ? `${number(n, 0)}${NBSP}${n === 1 ? one : many}` : `${unknown} ${many}`;

  const quantity = (value: Maybe, unit: Unit, uncertainty?: Maybe): string => {
    switch (unit) {
      case 'A':
        return (known(value) && Math.abs(value) >= 1 ? A : mA)(value, uncertainty);
      case 'V':
        return V(value, uncertainty);
      case 'Ah':
        return Ah(value, uncertainty);
      case 'Ω':
        return mohm(value, uncertainty);
      case '°C':
        return temp(value, uncertainty);
      case '1':
        return percent(value, uncertainty);
      case 's':
        return duration(value, uncertainty);
      case 'd':
        return days(known(value) ? value * 86_400 : value, known(uncertainty) ? uncertainty * 86_400 : uncertainty);
    }
  };
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

  return {
    A,
    mA,
    V,
    Ah,
    mohm,
    percent,
    temp,
    duration,
    days,
    time,
    date,
    dateTime,
    moment,
    number,
    count,
    quantity,
    limit,
    bytes,
  };
}

/** `3 h 20 min`: whole numbers of two units, the lower left out where it is nought. */
function pair(seconds: number, upperS: number, upper: string, lowerS: number, lower: string): string {
  const total = Math.round(seconds / lowerS);
  const ratio = upperS / lowerS;
  const rest = total % ratio;
  return `${Math.floor(total / ratio)}${NBSP}${upper}${rest ? `${NBSP}${rest}${NBSP}${lower}` : ''}`;
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
function significant(value: number, figures: number, most: number): number {
  if (value === 0) return 0;
  const exponent = Number(
    Math.abs(value)
      .toExponential(figures - 1)
      .split('e')[1],
  );
  return Math.min(most, Math.max(0, figures - 1 - exponent));
}

function roundTo(value: number, decimals: number): number {
  const scale = 10 ** decimals;
  return Math.round(value * scale) / scale;
}
