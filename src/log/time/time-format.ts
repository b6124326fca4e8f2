/** The form of a log's times: what the manifest says, or what the first rows show beyond doubt. */
import { UserError } from '../../base/problem.ts';
import { plainText } from '../../base/shown.ts';
import type { Session } from '../../manifest/session.ts';
import {
  readerOfPattern,
  readersOfPattern,
  readIso,
  readIsoClock,
  readIsoDate,
  type TimeReader,
  TOKEN_NAMES,
} from './time-text.ts';

/** `scale`: powers of ten below a second; `start`: s added. */
export type TimeForm =
  | { readonly kind: 'number'; readonly how: string; readonly scale: 0 | 3 | 6; readonly startS: number }
  | { readonly kind: 'text'; readonly how: string; readonly time: TimeReader; readonly clock?: TimeReader };

/** First cells of the time column (and of the clock column, row by row, where there is one). */
export interface TimeCells {
  readonly times: readonly string[];
  readonly clocks?: readonly string[];
}

const PLACE = { file: 'session.yaml', path: 'log.columns.time.format' };
const TAKEN = 'Taken: iso, epoch-s, epoch-ms, epoch-us, elapsed-s, or a pattern such as "DD.MM.YYYY HH:mm:ss"';

/** Throws UserError with the question where the form is not certain. */
export function timeForm(session: Session, cells: TimeCells): TimeForm {
  const format = session.log.columns.time.format;
  if (format === undefined) return sniffForm(session, cells);
  if (format === 'iso') return isoForm(cells.clocks !== undefined, 'ISO 8601');
  if (typeof format === 'string') return numberForm(session, format);
  return patternForm(session, format.pattern, cells.clocks !== undefined, `pattern ${format.pattern}`);
}

function isoForm(twoColumns: boolean, how: string): TimeForm {
  if (twoColumns) return { kind: 'text', how, time: readIsoDate, clock: readIsoClock };
  return { kind: 'text', how, time: readIso };
}

function numberForm(session: Session, format: 'epoch-s' | 'epoch-ms' | 'epoch-us' | 'elapsed-s'): TimeForm {
  if (format === 'epoch-ms') return { kind: 'number', how: 'ms since 1970', scale: 3, startS: 0 };
  if (format === 'epoch-us') return { kind: 'number', how: 'µs since 1970', scale: 6, startS: 0 };
  if (format === 'epoch-s') return { kind: 'number', how: 's since 1970', scale: 0, startS: 0 };
  const { startMs } = session.log;
  if (startMs === undefined) {
    const message = 'Times count from the start of the log: say when that was, such as start: 2026-03-03T17:40:00.';
    throw new UserError([{ file: 'session.yaml', path: 'log.start', message }]);
  }
  return { kind: 'number', how: 's since log.start', scale: 0, startS: startMs / 1000 };
}

function patternForm(session: Session, pattern: string, twoColumns: boolean, how: string): TimeForm {
  try {
    if (!twoColumns) return { kind: 'text', how, time: readerOfPattern(pattern) };
    const { date, clock } = readersOfPattern(pattern);
    return { kind: 'text', how, time: date, clock };
  } catch (error) {
    if (!(error instanceof RangeError)) throw error;
    const at = session.log.columns.time.at;
    const message = `"${plainText(pattern)}" is not a pattern for times (${plainText(error.message)}). It needs a year, month, day, hour and minute, each once. Taken: ${TOKEN_NAMES}; put other letters in [ ].`;
    throw new UserError([{ ...PLACE, line: at?.line, column: at?.column, message }]);
  }
}

function sniffForm(session: Session, cells: TimeCells): TimeForm {
  const twoColumns = cells.clocks !== undefined;
  const times = cells.times.map((cell) => cell.trim()).filter((cell) => cell !== '');
  const clear = (test: (cell: string) => boolean) => times.length > 0 && count(times, test) >= 0.8 * times.length;
  const read = twoColumns ? readIsoDate : readIso;
  if (clear((cell) => /\D/.test(cell.replace(/^-/, '')) && read(cell) !== undefined)) {
    return isoForm(twoColumns, 'ISO 8601, found from the file');
  }
  const pattern = sniffDayMonth(times, cells.clocks);
  if (pattern !== undefined) return patternForm(session, pattern, twoColumns, `${pattern}, found from the file`);
  if (!twoColumns) {
    const number = sniffNumber(session, times, clear);
    if (number !== undefined) return { ...number, how: `${number.how}, found from the file` };
  }
  throw unknownForm(session, times[0] ?? '');
}

function count(cells: readonly string[], test: (cell: string) => boolean): number {
  return cells.reduce((sum, cell) => sum + (test(cell) ? 1 : 0), 0);
}

/** From September 2001 a count of seconds since 1970 has ten digits; nothing that a logger counts from 0 gets there. */
function sniffNumber(session: Session, times: readonly string[], clear: (test: (cell: string) => boolean) => boolean) {
  const within = (low: number, high: number) => (cell: string) => Number(cell) >= low && Number(cell) < high;
  if (clear(within(1e9, 5e9))) return numberForm(session, 'epoch-s');
  if (clear(within(1e12, 5e12))) return numberForm(session, 'epoch-ms');
  if (clear(within(1e15, 5e15))) return numberForm(session, 'epoch-us');
  if (session.log.startMs !== undefined && clear(within(0, 1e9)) && rises(times)) {
    return numberForm(session, 'elapsed-s');
  }
  return undefined;
}

function rises(times: readonly string[]): boolean {
  return times.every((cell, k) => k === 0 || Number(cell) >= Number(times[k - 1]));
}

const DAY_MONTH = /^(\d{1,2})([./-])(\d{1,2})\2(\d{4}|\d{2})(?:[T\s]\s*(\d.*))?$/;

/** Day first or month first is certain only where a number above 12 shows it; with points, the day always comes first. */
function sniffDayMonth(times: readonly string[], clocks: readonly string[] | undefined): string | undefined {
  const matches = times.map((cell) => DAY_MONTH.exec(cell)).filter((match) => match !== null);
  if (matches.length === 0 || matches.length < 0.8 * times.length) return undefined;
  const [, , separator, , year] = matches[0];
  const clock = clocks === undefined ? matches[0][5] : clocks.find((cell) => cell.trim() !== '')?.trim();
  if (clock === undefined) return undefined;
  const clockPattern = sniffClock(clock);
  const dayFirst = matches.some((match) => Number(match[1]) > 12);
  const monthFirst = matches.some((match) => Number(match[3]) > 12);
  const certain = dayFirst !== monthFirst || (separator === '.' && year.length === 4 && !monthFirst);
  if (!certain || clockPattern === undefined) return undefined;
  const years = year.length === 4 ? 'YYYY' : 'YY';
  const date = monthFirst ? ['MM', 'DD', years] : ['DD', 'MM', years];
  return `${date.join(separator)} ${clockPattern}`;
}

function sniffClock(text: string): string | undefined {
  const match = /^\d{1,2}:\d{2}(:\d{2}(?:[.,]\d+)?)?(\s?[AaPp]\.?[Mm]\.?)?$/.exec(text);
  if (match === null) return undefined;
  const [, seconds, half] = match;
  return `${half ? 'hh' : 'HH'}:mm${seconds ? ':ss' : ''}${half ? (/^\s/.test(half) ? ' A' : 'A') : ''}`;
}

function unknownForm(session: Session, example: string): UserError {
  const at = session.log.columns.time.at;
  const found = `The log's times look like "${plainText(example)}"`;
  let question = `${found}: say how they are written.`;
  if (DAY_MONTH.test(example)) {
    question = `${found}: day first or month first? Say "DD/MM/YYYY HH:mm:ss" or "MM/DD/YYYY HH:mm:ss", as it is.`;
  } else if (/^\d+([.,]\d+)?$/.test(example)) {
    question = `${found}: seconds since the start, or since 1970? For the first, say elapsed-s and log.start.`;
  }
  return new UserError([{ ...PLACE, line: at?.line, column: at?.column, message: `${question} ${TAKEN}.` }]);
}
