/** How long something took, in the units that people count it in. */
import { wholeDays } from '../../base/whole-days.ts';
import { decimalsFor, type Fixed, isKnown, type MakeMeasure, type Maybe, NBSP, roundTo } from './numbers.ts';

/** Both take seconds. */
export interface Durations {
  duration(seconds: Maybe, uncertaintyS?: Maybe): string;
  days(seconds: Maybe, uncertaintyS?: Maybe): string;
  /** From one to another, in whole days as people say it: 0–4 days. */
  dayRange(lowS: number, highS: number): string;
}

const DAY_S = 86_400;
const LONG_DAYS = 180;

export function makeDurations(locale: string, fixed: Fixed, measure: MakeMeasure, unknown: string): Durations {
  const inUnit = {
    s: measure('s', 1, (value) => (Math.abs(value) < 10 ? 1 : 0)),
    min: measure('min', 1 / 60, () => 0),
  };

  function dayCount(value: number, decimals: number): string {
    const rounded = roundTo(value, decimals);
    const words = new Intl.NumberFormat(locale, { style: 'unit', unit: 'day', unitDisplay: 'long' }).formatToParts(
      rounded,
    );
    return `${fixed(rounded, decimals)}${NBSP}${words.find((part) => part.type === 'unit')?.value ?? 'd'}`;
  }

  function days(seconds: Maybe, uncertaintyS?: Maybe): string {
    if (!isKnown(seconds)) return unknown;
    const value = seconds / DAY_S;
    // Nobody speaks of parts of a day.
    if (!isKnown(uncertaintyS) && seconds > 0 && value < 0.95)
      return duration(Math.max(1, Math.round(seconds / 3600)) * 3600);
    if (!isKnown(uncertaintyS) || uncertaintyS <= 0) return dayCount(value, value < 10 && value % 1 !== 0 ? 1 : 0);
    const spread = uncertaintyS / DAY_S;
    return `${dayCount(value, decimalsFor(spread))}${NBSP}±${NBSP}${dayCount(spread, decimalsFor(spread))}`;
  }

  function withUncertainty(seconds: number, uncertaintyS: number): string {
    if (seconds < 120) return inUnit.s(seconds, uncertaintyS);
    if (uncertaintyS >= DAY_S) return days(seconds, uncertaintyS);
    // As people say it, and rounded to the uncertainty: 26 h 11 min ± 1 min, and neither 26.182 h nor 10.9 min.
    const stepS = uncertaintyS < 10 ? 1 : uncertaintyS < 1800 || seconds < 2 * 3600 ? 60 : 3600;
    const rounded = (value: number, round = Math.round) => duration(round(value / stepS) * stepS);
    return `${rounded(seconds)}${NBSP}±${NBSP}${rounded(uncertaintyS, Math.ceil)}`;
  }

  function duration(seconds: Maybe, uncertaintyS?: Maybe): string {
    if (!isKnown(seconds)) return unknown;
    if (isKnown(uncertaintyS) && uncertaintyS > 0) return withUncertainty(seconds, uncertaintyS);
    if (seconds < 59.5) return `${fixed(seconds, seconds < 9.95 ? 1 : 0, true)}${NBSP}s`;
    if (seconds < 600) return pair(seconds, 60, 'min', 1, 's');
    if (seconds < 3570) return inUnit.min(seconds);
    if (seconds < 2 * DAY_S) return pair(seconds, 3600, 'h', 60, 'min');
    const hours = Math.round(seconds / 3600);
    const rest = hours % 24 ? `${NBSP}${hours % 24}${NBSP}h` : '';
    return `${dayCount(Math.floor(hours / 24), 0)}${rest}`;
  }

  function dayRange(lowS: number, highS: number): string {
    const { low, high } = wholeDays(lowS, highS);
    if (high < 2) return days(high * DAY_S);
    // Nobody can say so far ahead: the short end alone counts.
    if (high > LONG_DAYS) return low > 0 ? `≥${NBSP}${days(low * DAY_S)}` : unknown;
    const range = new Intl.NumberFormat(locale, { style: 'unit', unit: 'day', unitDisplay: 'long' });
    return range.formatRange(low, high).replaceAll(/[\s\u202f]/g, NBSP);
  }

  return { duration, days, dayRange };
}

/** `3 h 20 min`: whole numbers of two units, the lower left out where it is nought. */
function pair(seconds: number, upperS: number, upper: string, lowerS: number, lower: string): string {
  const total = Math.round(seconds / lowerS);
  const ratio = upperS / lowerS;
  const rest = total % ratio;
  return `${Math.floor(total / ratio)}${NBSP}${upper}${rest ? `${NBSP}${rest}${NBSP}${lower}` : ''}`;
}
