/** The patterns that read a log's times, made from the look of its first cells. */
import { readerOfPattern, readersOfPattern } from './time-text.ts';

const DATE_OF_NUMBERS = /^(\d{4}|\d{1,2})([./-])(\d{1,2})\2(\d{4}|\d{2})/;
const DATE_DAY_NAME = /^\d{1,2}([\s.-]+)[A-Za-z]{3,9}\.?([\s.,-]+)(\d{4}|\d{2})(?!\d)/;
const DATE_NAME_DAY = /^[A-Za-z]{3,9}\.?([\s.-]+)\d{1,2}([\s.,-]+)(\d{4})/;
const CLOCK = /^\d{1,2}([:.])\d{2}(\1\d{2}(?:[.,]\d{1,9})?)?(\s*)([AaPp]\.?[Mm]\.?)?(\s*)([Zz]|[+-]\d{2}:?\d{2})?$/;

/**
 * Every pattern that reads nearly all of the cells; two where day and month may be either. With points and a year of four
 * digits the day comes first wherever it can.
 */
export function patternsThatFit(times: readonly string[], clocks?: readonly string[]): string[] {
  const filled = times.flatMap((cell, k) => {
    const [time, clock] = [cell.trim(), clocks?.[k]?.trim() ?? ''];
    return time === '' || (clocks && clock === '') ? [] : [{ time, clock }];
  });
  const [begin] = filled;
  if (begin === undefined) return [];
  const fitting = patternsLike(begin.time, clocks && begin.clock).filter((pattern) => {
    const read = clocks ? readersOfPattern(pattern) : { date: readerOfPattern(pattern), clock: undefined };
    const good = filled.filter(({ time, clock }) => read.date(time) && (!read.clock || read.clock(clock)));
    return good.length >= 0.95 * filled.length;
  });
  const german = fitting.find((pattern) => /^D+\.M+\.YYYY/.test(pattern));
  return german === undefined ? fitting : [german];
}

function patternsLike(time: string, clock: string | undefined): string[] {
  return datesLike(time).flatMap(({ date, rest }) => {
    if (clock !== undefined) return rest === '' ? joined(date, ' ', clockLike(clock)) : [];
    const between = /^(?:[Tt](?=\d)|[\s,;_-]+)/.exec(rest)?.[0];
    return between === undefined ? [] : joined(date, between, clockLike(rest.slice(between.length)));
  });
}

function joined(date: string, between: string, clock: string | undefined): string[] {
  return clock === undefined ? [] : [`${date}${literal(between)}${clock}`];
}

function datesLike(cell: string): { date: string; rest: string }[] {
  const numbers = DATE_OF_NUMBERS.exec(cell);
  if (numbers !== null) {
    const [whole, first = '', separator, , last = ''] = numbers;
    const rest = cell.slice(whole.length);
    const of = (...parts: string[]) => ({ date: parts.join(separator), rest });
    if (first.length === 4) return last.length === 2 ? [of('YYYY', 'MM', 'DD'), of('YYYY', 'DD', 'MM')] : [];
    const year = 'Y'.repeat(last.length);
    return [of('DD', 'MM', year), of('MM', 'DD', year)];
  }
  const dayName = DATE_DAY_NAME.exec(cell);
  if (dayName !== null) {
    const [whole, one = '', two = '', year = ''] = dayName;
    return [{ date: `DD${literal(one)}MMM${literal(two)}${'Y'.repeat(year.length)}`, rest: cell.slice(whole.length) }];
  }
  const nameDay = DATE_NAME_DAY.exec(cell);
  if (nameDay === null) return [];
  const [whole, one = '', two = ''] = nameDay;
  return [{ date: `MMM${literal(one)}DD${literal(two)}YYYY`, rest: cell.slice(whole.length) }];
}

function clockLike(text: string): string | undefined {
  const match = CLOCK.exec(text);
  if (match === null) return undefined;
  const [, colon, seconds, gap, half, zoneGap, zone] = match;
  const clock = `${half ? 'hh' : 'HH'}${colon}mm${seconds ? `${colon}ss` : ''}`;
  return `${clock}${half ? `${gap === '' ? '' : ' '}A` : ''}${zone ? `${zoneGap === '' ? '' : ' '}Z` : ''}`;
}

/** Runs of space are one in a pattern, and a letter stands in brackets. */
function literal(text: string): string {
  return text.replace(/\s+/g, ' ').replace(/[A-Za-z]/g, (letter) => (letter === 'T' ? letter : `[${letter}]`));
}
