/** Reading and writing times. A wall-clock time is kept as `localMs`: ms since the epoch, written as if it were UTC. */

export interface ParsedTime {
  /** The wall-clock time as written, ms, as if it were UTC; fractions of a millisecond are kept. */
  readonly localMs: number;
  /** Local minus UTC, ms; undefined where the text names no offset. */
  readonly offsetMs?: number;
}

const ISO =
  /^(\d{4})-(\d{2})-(\d{2})(?:[Tt ](\d{2}):(\d{2})(?::(\d{2})(?:[.,](\d{1,9}))?)?)?\s?(Z|z|[+-]\d{2}(?::?\d{2})?)?$/;

/**
 * ISO 8601 / RFC 3339 as loggers and people write it: `2026-03-03`, `2026-03-03T17:30`, `2026-03-03 17:30:05.250+01:00`.
 * A date alone means its midnight. Undefined for anything else, and for a date that the calendar does not have.
 */
export function parseIso(text: string): ParsedTime | undefined {
  const match = ISO.exec(text.trim());
  if (match === null) return undefined;
  const [, year = '', month = '', day = '', hour = '0', minute = '0', second = '0', fraction = '', zone] = match;
  if (zone !== undefined && match[4] === undefined) return undefined;
  const localMs = wallClockMs(+year, +month, +day, +hour, +minute, +second + Number(`0.${fraction || 0}`));
  const offsetMs = zone === undefined ? undefined : parseOffset(zone);
  if (localMs === undefined || (zone !== undefined && offsetMs === undefined)) return undefined;
  return offsetMs === undefined ? { localMs } : { localMs, offsetMs };
}

/** Month 1 to 12, day 1 to 31, seconds may have a fraction. Undefined where the calendar or the clock has no such time. */
export function wallClockMs(
  year: number,
  month: number,
  day: number,
  hour = 0,
  minute = 0,
  second = 0,
): number | undefined {
  if (!(hour >= 0 && hour < 24 && minute >= 0 && minute < 60 && second >= 0 && second < 60)) return undefined;
  // Date.UTC takes the years 0 to 99 for 1900 to 1999, and rolls 31 February over into March.
  const midnight = new Date(Date.UTC(2000, month - 1, day));
  midnight.setUTCFullYear(year, month - 1, day);
  if (midnight.getUTCMonth() !== month - 1 || midnight.getUTCDate() !== day) return undefined;
  return midnight.getTime() + hour * 3_600_000 + minute * 60_000 + second * 1000;
}

/** `Z`, `+01`, `+0100` or `+01:00` in ms; undefined beyond ±14 h. */
function parseOffset(text: string): number | undefined {
  if (text === 'Z' || text === 'z') return 0;
  const digits = text.slice(1).replace(':', '');
  const minutes = Number(digits.slice(0, 2)) * 60 + Number(digits.slice(2) || 0);
  if (minutes > 14 * 60 || Number(digits.slice(2) || 0) >= 60) return undefined;
  // `0 - x` and not `-x`: no negative zero.
  return text[0] === '-' ? 0 - minutes * 60_000 : minutes * 60_000;
}

/** ISO 8601 in UTC with milliseconds and `Z`, as every JSON output has it. `ms` since the epoch, rounded to the nearest. */
export function formatIso(ms: number): string {
  return new Date(Math.round(ms)).toISOString();
}

/** `2026-03-03 17:30` of a wall-clock time, for messages; seconds only where they are not zero. */
export function formatWallClock(localMs: number): string {
  const text = new Date(Math.floor(localMs)).toISOString();
  return `${text.slice(0, 10)} ${text.slice(11, text.slice(17, 19) === '00' ? 16 : 19)}`;
}
