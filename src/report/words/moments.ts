/** Moments as clocks and calendars show them, local to the session. */
import { isKnown, type Maybe, NBSP } from './numbers.ts';

/** Offset of local time from UTC at a moment; `zoneOf` of `base/zone.ts` gives one. */
export interface Zone {
  offsetMs(utcMs: number): number;
}

/** All take seconds since the epoch (UTC) and write local time. */
export interface Moments {
  time(epochS: Maybe): string;
  date(epochS: Maybe): string;
  /** Its name alone. */
  weekday(epochS: Maybe): string;
  dateTime(epochS: Maybe): string;
  /** Without the year, for tables. */
  moment(epochS: Maybe): string;
}

export function makeMoments(locale: string, zone: Zone, unknown: string): Moments {
  const local = (epochS: number): Date => new Date(epochS * 1000 + zone.offsetMs(epochS * 1000));
  const written = (parts: Intl.DateTimeFormatOptions) => {
    return new Intl.DateTimeFormat(locale, { timeZone: 'UTC', ...parts });
  };
  const clock = written({ hour: '2-digit', minute: '2-digit', hourCycle: 'h23' });
  const calendar = written({ weekday: 'short', day: 'numeric', month: 'short', year: 'numeric' });
  const dayOnly = written({ weekday: 'short', day: 'numeric', month: 'short' });
  const dayName = written({ weekday: 'long' });
  const unbroken = (text: string): string => text.replaceAll(/[\s\u202f]/g, NBSP).replace(`,${NBSP}`, NBSP);

  const time = (epochS: Maybe) => (isKnown(epochS) ? clock.format(local(epochS)) : unknown);
  const date = (epochS: Maybe) => (isKnown(epochS) ? unbroken(calendar.format(local(epochS))) : unknown);
  return {
    time,
    date,
    weekday: (epochS) => (isKnown(epochS) ? dayName.format(local(epochS)) : unknown),
    dateTime: (epochS) => (isKnown(epochS) ? `${date(epochS)}, ${time(epochS)}` : unknown),
    moment: (epochS) => (isKnown(epochS) ? `${unbroken(dayOnly.format(local(epochS)))}, ${time(epochS)}` : unknown),
  };
}
