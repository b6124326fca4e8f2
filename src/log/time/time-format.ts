/** The form of a log's times: what the manifest says, or what the first rows show beyond doubt. */
import { UserError } from '../../base/problem.ts';
import { orList, plainText } from '../../base/shown.ts';
import type { Session } from '../../manifest/session.ts';
import { patternsThatFit } from './patterns.ts';
import { COUNT_SCALE, COUNT_WORDS, type CountFormat, type CountGuess, countLike, unitOfCount } from './time-number.ts';
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
const TAKEN =
  'Expected: iso, epoch-s, epoch-ms, epoch-us, elapsed-s, elapsed-ms, or a pattern such as "DD.MM.YYYY HH:mm:ss"';

/** Throws UserError with the question where the form is not certain, or where the manifest's form reads none of the cells. */
export function timeForm(session: Session, cells: TimeCells): TimeForm {
  const { columns, stepS } = session.log;
  if (stepS !== undefined)
    return { kind: 'number', how: `none in the log: a row each ${stepS} s from log.start`, scale: 0, startS: 0 };
  const format = columns.time?.format;
  if (format === undefined) return sniffForm(session, cells);
  const twoColumns = cells.clocks !== undefined;
  if (typeof format === 'object') {
    const form = patternForm(session, format.pattern, twoColumns, `pattern ${format.pattern}`);
    return fitting(session, form, `"${plainText(format.pattern)}"`, cells);
  }
  if (format === 'iso') return fitting(session, isoForm(twoColumns, 'ISO 8601'), 'iso', cells);
  refuseOtherCount(session, format, cells);
  return numberForm(session, format);
}

function isoForm(twoColumns: boolean, how: string): TimeForm {
  if (twoColumns) return { kind: 'text', how, time: readIsoDate, clock: readIsoClock };
  return { kind: 'text', how, time: readIso };
}

function numberForm(session: Session, format: CountFormat): TimeForm {
  const common = { kind: 'number', how: COUNT_WORDS[format], scale: COUNT_SCALE[format] } as const;
  if (!format.startsWith('elapsed')) return { ...common, startS: 0 };
  const { startMs } = session.log;
  if (startMs === undefined) {
    const message = 'Times count from the start of the log: say when that was, such as start: 2026-03-03T17:40:00.';
    throw new UserError([{ file: 'session.yaml', path: 'log.start', message }]);
  }
  return { ...common, startS: startMs / 1000 };
}

function patternForm(session: Session, pattern: string, twoColumns: boolean, how: string): TimeForm {
  try {
    if (!twoColumns) return { kind: 'text', how, time: readerOfPattern(pattern) };
    const { date, clock } = readersOfPattern(pattern);
    return { kind: 'text', how, time: date, clock };
  } catch (error) {
    if (!(error instanceof RangeError)) throw error;
    throw refusal(
      session,
      `"${plainText(pattern)}" is not a pattern for times (${plainText(error.message)}). It needs a year, month, day, hour and minute, each once. Expected: ${TOKEN_NAMES}; put other letters in [ ].`,
    );
  }
}

/** A form that reads none of the first cells is the wrong one; a few that it cannot read are damage. */
function fitting(session: Session, form: TimeForm, said: string, cells: TimeCells): TimeForm {
  if (form.kind !== 'text') return form;
  const times = filled(cells.times);
  const reads = (reader: TimeReader | undefined, texts: readonly string[] | undefined) =>
    reader === undefined || texts === undefined || texts.some((cell) => reader(cell.trim()) !== undefined);
  if (times.length === 0 || (reads(form.time, times) && reads(form.clock, cells.clocks))) return form;
  const instead = proposal(session, cells);
  // Cells that nothing reads are damage, of this file or of its beginning.
  if (instead === undefined) return form;
  throw refusal(session, `${said} reads none of the log's times, which look like ${looks(cells)}: ${instead}`);
}

/** A count that is by its size, or by its column's name, of another unit. */
function refuseOtherCount(session: Session, format: CountFormat, cells: TimeCells): void {
  const name = nameOf(session);
  const guess = countLike(filled(cells.times), name);
  if (guess === undefined) {
    const instead = proposal(session, cells);
    if (instead === undefined) return;
    throw refusal(session, `${format} takes numbers, and the log's times look like ${looks(cells)}: ${instead}`);
  }
  const [only, other] = guess.formats;
  if (only === undefined) return;
  const certain =
    other === undefined && only !== format && (only.startsWith('epoch') || unitOfCount(name) !== undefined);
  if (!certain || (only.startsWith('elapsed') && !format.startsWith('elapsed'))) return;
  throw refusal(
    session,
    `The manifest says ${format}, and the log's times look like ${COUNT_WORDS[only]}: "${plainText(String(name))}" holds ${looks(cells)}. Say ${only}.`,
  );
}

function sniffForm(session: Session, cells: TimeCells): TimeForm {
  const twoColumns = cells.clocks !== undefined;
  const times = filled(cells.times);
  const clear = (test: (cell: string) => boolean) => times.length > 0 && count(times, test) >= 0.8 * times.length;
  const read = twoColumns ? readIsoDate : readIso;
  if (clear((cell) => /\D/.test(cell.replace(/^-/, '')) && read(cell) !== undefined)) {
    return isoForm(twoColumns, 'ISO 8601, found from the file');
  }
  const patterns = patternsThatFit(cells.times, cells.clocks);
  const [pattern] = patterns;
  if (pattern !== undefined && patterns.length === 1) {
    return patternForm(session, pattern, twoColumns, `${pattern}, found from the file`);
  }
  const guess = twoColumns || patterns.length > 0 ? undefined : countLike(times, nameOf(session));
  const [counted, other] = guess?.formats ?? [];
  if (counted && !other && (counted.startsWith('epoch') || session.log.startMs !== undefined)) {
    const form = numberForm(session, counted);
    return { ...form, how: `${form.how}, found from the file` };
  }
  const instead = proposal(session, cells) ?? `say how they are written. ${TAKEN}.`;
  throw refusal(session, `The log's times look like ${looks(cells)}: ${instead}`);
}

function nameOf({ log }: Session): string | number {
  return log.columns.time?.name ?? '';
}

function filled(cells: readonly string[]): string[] {
  return cells.map((cell) => cell.trim()).filter((cell) => cell !== '');
}

function count(cells: readonly string[], test: (cell: string) => boolean): number {
  return cells.reduce((sum, cell) => sum + (test(cell) ? 1 : 0), 0);
}

function looks({ times, clocks }: TimeCells): string {
  const at = times.findIndex((cell) => cell.trim() !== '');
  const clock = clocks?.[at]?.trim();
  return `"${plainText(times[at]?.trim() ?? '')}"${clock ? ` and "${plainText(clock)}"` : ''}`;
}

/** What to say instead; whatever is proposed reads the cells. Undefined where nothing does. */
function proposal(session: Session, cells: TimeCells): string | undefined {
  const times = filled(cells.times);
  // Year first is ISO 8601, whatever else could be read into it.
  const read = cells.clocks === undefined ? readIso : readIsoDate;
  if (times.length > 0 && times.every((cell) => /\D/.test(cell) && read(cell) !== undefined)) return 'say iso.';
  const patterns = patternsThatFit(cells.times, cells.clocks);
  if (patterns.length === 1) return `say "${patterns[0]}".`;
  if (patterns.length > 1) {
    return `day first or month first? Say ${orList(patterns.map((pattern) => `"${pattern}"`))}, as it is.`;
  }
  const guess = cells.clocks === undefined ? countLike(times, nameOf(session)) : undefined;
  if (guess !== undefined) return countQuestion(guess);
  const [first = ''] = times;
  if (/^\d{1,2}:\d{2}[.,]\d$/.test(first)) {
    return 'a spreadsheet has shortened them to minutes and seconds. Take the file as the logger wrote it, or show the column with date, hours and seconds before it is saved.';
  }
  if (/^\d{1,2}:\d{2}(:\d{2})?/.test(first) && cells.clocks === undefined) {
    return 'a time of day without its date. Where the date has a column of its own, say name: with that column and clock: with this one. Where there is no date, leave out log.columns.time and say when the log began and how far apart its rows are: log.start and log.step.';
  }
  return undefined;
}

/** What a person may choose from where the form is not certain, as `log.columns.time.format` takes it. */
export function timeChoices(name: string | number, { times, clocks }: TimeCells): readonly string[] {
  const patterns = patternsThatFit(times, clocks);
  if (patterns.length > 0 || clocks !== undefined) return patterns;
  return countLike(filled(times), name)?.formats ?? [];
}

function countQuestion({ formats, step }: CountGuess): string {
  const said = (format: CountFormat) =>
    `${format} (a row each ${Number((step / 10 ** COUNT_SCALE[format]).toPrecision(3))} s)`;
  const [first] = formats;
  if (first?.startsWith('epoch')) return `say ${first}.`;
  return `do they count from the start of the log? Then say ${orList(formats.map(said))}, and log.start.`;
}

function refusal(session: Session, message: string): UserError {
  const at = session.log.columns.time?.at;
  return new UserError([{ ...PLACE, line: at?.line, column: at?.column, message }]);
}
