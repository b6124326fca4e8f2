/** Times written as text: ISO 8601 and patterns, whole or as a date and a time of day in two columns. */
import { there } from '../../base/there.ts';
import { POWER_OF_TEN } from '../rows/number.ts';

export interface TimeReading {
  /** s since 1970-01-01T00:00:00, of UTC when `zoned`, else of the wall clock; of the day for a time of day alone. */
  readonly seconds: number;
  readonly zoned: boolean;
  /** `seconds` at the full minute. */
  readonly minute: number;
  /** Where the two digits of the seconds stand in the text; −1 where there are not two. */
  readonly secondsAt: number;
}

/** Undefined for a text of another form, or a time that no clock or calendar has. Trims nothing. */
export type TimeReader = (text: string) => TimeReading | undefined;

type Part = 'year' | 'month' | 'day' | 'hour' | 'minute' | 'second' | 'fraction' | 'half' | 'zone';

const ISO_DATE = '(?<year>\\d{4})(?<sep>[-/]?)(?<month>\\d{2})\\k<sep>(?<day>\\d{2})';
const ISO_CLOCK = '(?<hour>\\d{2}):?(?<minute>\\d{2})(?::?(?<second>\\d{2})(?:[.,](?<fraction>\\d{1,9}))?)?';
const ZONE = '\\s?(?<zone>[Zz]|[+-]\\d{2}(?::?\\d{2})?)';
const MONTHS = ['jan', 'feb', 'mar', 'apr', 'may', 'jun', 'jul', 'aug', 'sep', 'oct', 'nov', 'dec'];

/** RFC 3339, and of ISO 8601 also: a space for the T, no separators, no seconds, no offset, a date alone. */
export const readIso: TimeReader = reader(new RegExp(`^${ISO_DATE}(?:[Tt ]${ISO_CLOCK}(?:${ZONE})?)?$`, 'd'));
export const readIsoDate: TimeReader = reader(new RegExp(`^${ISO_DATE}$`, 'd'));
export const readIsoClock: TimeReader = reader(new RegExp(`^${ISO_CLOCK}(?:${ZONE})?$`, 'd'));

/** Longest first, so that `MMM` is not read as `MM` and `M`. Two letters may meet one digit where it cannot be misread. */
const TOKENS: readonly (readonly [token: string, part: Part, strict: string, loose: string])[] = [
  ['YYYY', 'year', '\\d{4}', '\\d{4}'],
  ['YY', 'year', '\\d{2}', '\\d{2}'],
  ['MMM', 'month', '[A-Za-z]{3}', '[A-Za-z]{3,9}\\.?'],
  ['MM', 'month', '\\d{2}', '\\d{1,2}'],
  ['M', 'month', '\\d{1,2}', '\\d{1,2}'],
  ['DD', 'day', '\\d{2}', '\\d{1,2}'],
  ['D', 'day', '\\d{1,2}', '\\d{1,2}'],
  ['HH', 'hour', '\\d{2}', '\\d{1,2}'],
  ['H', 'hour', '\\d{1,2}', '\\d{1,2}'],
  ['hh', 'hour', '\\d{2}', '\\d{1,2}'],
  ['h', 'hour', '\\d{1,2}', '\\d{1,2}'],
  ['mm', 'minute', '\\d{2}', '\\d{1,2}'],
  ['m', 'minute', '\\d{1,2}', '\\d{1,2}'],
  ['ss', 'second', '\\d{2}', '\\d{1,2}'],
  ['s', 'second', '\\d{1,2}', '\\d{1,2}'],
  ['A', 'half', '[AaPp]\\.?[Mm]\\.?', '[AaPp]\\.?[Mm]\\.?'],
  ['a', 'half', '[AaPp]\\.?[Mm]\\.?', '[AaPp]\\.?[Mm]\\.?'],
  ['Z', 'zone', '[Zz]|[+-]\\d{2}(?::?\\d{2})?', '[Zz]|[+-]\\d{2}(?::?\\d{2})?'],
];
export const TOKEN_NAMES = 'YYYY YY MMM MM M DD D HH H hh h mm m ss s SSS A Z';

interface Piece {
  readonly part?: Part;
  readonly token: string;
  readonly strict: string;
  readonly loose: string;
}

/** What a pattern is made of; throws RangeError that names a letter it does not know. `[T]` stands for itself. */
function piecesOf(pattern: string): Piece[] {
  const pieces: Piece[] = [];
  for (let at = 0; at < pattern.length; ) {
    const rest = pattern.slice(at);
    const fraction = /^S+/.exec(rest)?.[0];
    const literal = /^\[([^\]]*)\]/.exec(rest);
    const found = TOKENS.find(([token]) => rest.startsWith(token));
    if (fraction !== undefined) {
      pieces.push({ part: 'fraction', token: fraction, strict: '\\d{1,9}', loose: '\\d{1,9}' });
      at += fraction.length;
    } else if (literal !== null) {
      const text = literalOf(literal[1] ?? '');
      pieces.push({ token: literal[0], strict: text, loose: text });
      at += literal[0].length;
    } else if (found !== undefined) {
      const [token, part, strict, loose] = found;
      pieces.push({ part, token, strict, loose });
      at += token.length;
    } else {
      const letter = rest.charAt(0);
      if (/[A-Za-z]/.test(letter) && letter !== 'T') throw new RangeError(letter);
      const text = /\s/.test(letter) ? '\\s+' : literalOf(letter);
      pieces.push({ token: letter, strict: text, loose: text });
      at += 1;
    }
  }
  return pieces;
}

function literalOf(text: string): string {
  return text.replace(/[.*+?^${}()|[\]\\/-]/g, '\\$&');
}

const DATE_PARTS: ReadonlySet<Part | undefined> = new Set<Part>(['year', 'month', 'day']);

/** Throws RangeError for a pattern with an unknown letter, a part twice, or without a whole date and an hour and minute. */
export function readerOfPattern(pattern: string): TimeReader {
  const pieces = piecesOf(pattern);
  for (const part of ['year', 'month', 'day', 'hour', 'minute']) {
    if (!pieces.some((piece) => piece.part === part)) throw new RangeError(`no ${part}`);
  }
  return readerOfPieces(pieces);
}

/** The pattern of a date and a time of day that stand in two columns: `DD.MM.YYYY HH:mm:ss`, in either order. */
export function readersOfPattern(pattern: string): { date: TimeReader; clock: TimeReader } {
  readerOfPattern(pattern);
  const pieces = piecesOf(pattern);
  const isDate = (piece: Piece) => DATE_PARTS.has(piece.part);
  const isClock = (piece: Piece) => piece.part !== undefined && !isDate(piece);
  const span = (of: (piece: Piece) => boolean) => pieces.slice(pieces.findIndex(of), pieces.findLastIndex(of) + 1);
  const [date, clock] = [span(isDate), span(isClock)];
  if (date.some(isClock)) throw new RangeError('date and time of day mixed');
  return { date: readerOfPieces(date), clock: readerOfPieces(clock) };
}

function readerOfPieces(pieces: readonly Piece[]): TimeReader {
  const seen = new Set<Part>();
  let source = '';
  for (const [k, piece] of pieces.entries()) {
    if (piece.part === undefined) {
      source += piece.strict;
      continue;
    }
    if (seen.has(piece.part)) throw new RangeError(`${piece.part} twice`);
    seen.add(piece.part);
    const tight = pieces[k + 1]?.part !== undefined || pieces[k - 1]?.part !== undefined;
    source += `(?<${piece.part}>${tight ? piece.strict : piece.loose})`;
    // A fraction that the pattern does not mention can mean nothing else.
    const last = piece.part === 'second' && !pieces.some((other) => other.part === 'fraction');
    if (last) source += '(?:[.,](?<fraction>\\d{1,9}))?';
  }
  return reader(new RegExp(`^${source}$`, 'd'));
}

function reader(form: RegExp): TimeReader {
  return (text) => {
    const match = form.exec(text);
    if (match?.groups === undefined || match.indices?.groups === undefined) return undefined;
    const part = match.groups as Partial<Record<Part, string>>;
    const day = part.year === undefined ? 0 : dayNumber(yearOf(part.year), monthOf(part.month ?? ''), Number(part.day));
    const hour = hourOf(Number(part.hour ?? 0), part.half);
    const minute = Number(part.minute ?? 0);
    // A second 60 is a leap second (RFC 3339, 5.7): it falls together with the next.
    const second = Number(part.second ?? 0);
    const offset = part.zone === undefined ? 0 : offsetOf(part.zone);
    if (day === undefined || hour === undefined || offset === undefined || minute > 59 || second > 60) return undefined;
    const full = day * 86_400 + hour * 3600 + minute * 60 - offset;
    const fraction = part.fraction ?? '';
    return {
      seconds: joinSeconds(full + second, Number(fraction || 0), fraction.length),
      zoned: part.zone !== undefined,
      minute: full,
      secondsAt: part.second?.length === 2 ? (match.indices.groups.second as [number, number])[0] : -1,
    };
  };
}

/** `whole` s and `fraction` × 10^−digits s, as the double nearest to the decimal number wherever that can be had. */
export function joinSeconds(whole: number, fraction: number, digits: number): number {
  if (digits === 0) return whole;
  const scale = there(POWER_OF_TEN[digits]);
  return digits <= 6 ? (whole * scale + fraction) / scale : whole + fraction / scale;
}

/** Two digits: 69 to 99 are 1969 to 1999, as POSIX has it, so that a clock reset to 1980 shows as one. */
function yearOf(text: string): number {
  const year = Number(text);
  if (text.length > 2) return year;
  return year < 69 ? 2000 + year : 1900 + year;
}

function monthOf(text: string): number {
  return /^\d/.test(text) ? Number(text) : MONTHS.indexOf(text.slice(0, 3).toLowerCase()) + 1;
}

/** Days since 1970-01-01; undefined for a day that the calendar does not have. */
function dayNumber(year: number, month: number, day: number): number | undefined {
  // Date.UTC takes the years 0 to 99 for 1900 to 1999, and rolls 31 February over into March.
  const date = new Date(Date.UTC(2000, month - 1, day));
  date.setUTCFullYear(year, month - 1, day);
  const real = date.getUTCMonth() === month - 1 && date.getUTCDate() === day;
  return real ? date.getTime() / 86_400_000 : undefined;
}

function hourOf(hour: number, half: string | undefined): number | undefined {
  if (half === undefined) return hour < 24 ? hour : undefined;
  if (hour < 1 || hour > 12) return undefined;
  return (hour % 12) + (/^p/i.test(half) ? 12 : 0);
}

/** Local minus UTC, s; RFC 3339 allows any hour and minute. */
function offsetOf(text: string): number | undefined {
  if (/^z/i.test(text)) return 0;
  const hours = Number(text.slice(1, 3));
  const minutes = Number(text.slice(3).replace(':', '') || 0);
  if (hours > 23 || minutes > 59) return undefined;
  return (text[0] === '-' ? -1 : 1) * (hours * 3600 + minutes * 60);
}
