/** A look into the head of a log before there is a manifest: how its rows are laid out, how often they come, what its columns may be. */

import { UserError } from '../../base/problem.ts';
import { median } from '../../battery/statistics.ts';
import type { Session } from '../../manifest/session.ts';
import type { LogIo } from '../files/io.ts';
import { PARQUET_MAGIC } from '../files/log-input.ts';
import { openSource } from '../files/source.ts';
import { mixedBy } from '../long/mixed.ts';
import { textOf } from '../rows/encoding.ts';
import { type Decimal, readNumber, sniffDecimal } from '../rows/number.ts';
import { splitLine } from '../rows/split.ts';
import { unitOf } from '../rows/unit-in-name.ts';
import { type TimeForm, timeChoices, timeForm } from '../time/time-format.ts';
import { COUNT_WORDS } from '../time/time-number.ts';
import { nameOf, type Proposal, type ProposedColumn, proposeColumns, type SampleColumn } from './sample-columns.ts';

export interface LogSample extends Proposal {
  /** Rows looked at. */
  readonly rows: number;
  /** Mean bytes of a row as the logger writes it, line end included, before any packing. */
  readonly rowBytes: number;
  /** Median time from row to row, s; null where the times cannot be read without being told how they are written. */
  readonly stepS: number | null;
  /** Null where no column looks like times. */
  readonly time: SampleTime | null;
  /** Names of all columns, or their numbers where there is no header. */
  readonly columns: readonly (string | number)[];
}

export interface SampleTime {
  readonly name: string | number;
  /** Column of the time of day, where the date stands alone. */
  readonly clock?: string | number;
  /** Counts from the start of the log, which the file does not tell. */
  readonly elapsed: boolean;
  /** The format to be written where the name of one is needed, or the ones to choose from where it is not certain. */
  readonly formats: readonly string[];
  /** How the times are written, in words; null where that is not certain, with the question in `reason`. */
  readonly how: string | null;
  readonly reason: string;
}

const DELIMITERS = ['\t', ';', '|', ',', ' '] as const;
/** Rows looked at, wherever in the head they begin: preambles of hundreds of lines are known. */
const SAMPLE_ROWS = 400;
/** A clock is as fine as this many rows, or its steps tell nothing: a count of minutes since some event stands beside it in many logs. */
const MOST_ROWS_A_STEP = 25;
/** Signs of a unit, in a row of them. */
const LONGEST_UNIT = 8;
/** Names in a header that its rows have no cells for, or cells without a name. */
const MOST_NAMES_OFF = 2;
const DATE = /^\s*(\d{4}[-/]?\d{2}[-/]?\d{2}|\d{1,2}[./-]\d{1,2}[./-]\d{2,4})(?!\d)/;
const CLOCK = /\d{1,2}:\d{2}/;
const NUMBER = /^\s*[+-]?\d*[.,]?\d+([eE][+-]?\d+)?\s*$/;
const WITH_UNIT = /^(.*[\d.,])\s*([a-z°]+)\s*$/i;

/** @param path absolute. Throws UserError where it is not a text log with rows. */
export async function readSample(path: string, name: string, io: LogIo): Promise<LogSample> {
  const refuse = (message: string): never => {
    throw new UserError([{ file: name, message }]);
  };
  const file = await io.open(path).catch((error: Error & { readonly code?: string }) => {
    return refuse(`The sample cannot be opened (${error.code ?? error.message}). Expected: a text log of this logger.`);
  });
  try {
    const source = await openSource(io, file, name);
    const text = textOf(source.head, source.encoding);
    if (text.startsWith(PARQUET_MAGIC)) refuse('A sample must be text (.csv, .tsv, .txt, or .gz of these).');
    const lines = text.split('\n');
    if (!source.headIsAll) lines.pop();
    const bytesPerChar = source.encoding.startsWith('utf-16') ? 2 : 1;
    const rows = findRows(lines.map((line) => line.replace(/\r$/, '').replace(/^\uFEFF/, '')));
    if (!rows) return refuse('No rows of numbers were found in it. Expected: a text log of this logger.');
    const rowBytes = mean(rows.at.map((at) => (lines[at].length + 1) * bytesPerChar));
    return describe(rows, rowBytes);
  } finally {
    await file.close();
  }
}

interface Rows {
  readonly header: readonly string[] | undefined;
  /** Of the row of units below the header, where there is one. */
  readonly units: readonly string[] | undefined;
  readonly cells: readonly (readonly string[])[];
  /** Index of each row among the lines. */
  readonly at: readonly number[];
}

/** The delimiter that gives the most numbers, in rows of one length. */
function findRows(lines: readonly string[]): Rows | undefined {
  let best: (Rows & { readonly numbers: number }) | undefined;
  for (const delimiter of DELIMITERS) {
    const split = lines.map((line) => splitLine(line, delimiter));
    const isRow = (cells: readonly string[]) =>
      cells.length > 1 && (/\d/.test(cells[0]) || cells.some((cell) => DATE.test(cell))) && cells.some(isNumber);
    const { usual, numbers } = widest(split.filter(isRow));
    const at = split.flatMap((cells, k) => (isRow(cells) && cells.length === usual ? [k] : [])).slice(0, SAMPLE_ROWS);
    if (at.length < 2 || (best && numbers <= best.numbers)) continue;
    // A name may lack, or stand over nothing, at the end; the row nearest to the width of the others has the names.
    const above = split
      .slice(Math.max(0, at[0] - 4), at[0])
      .filter(
        (cells) =>
          cells.length > 1 && cells.every((cell) => !isNumber(cell)) && cells.some((cell) => /\p{L}/u.test(cell)),
      )
      .filter((cells) => Math.abs(cells.length - usual) <= MOST_NAMES_OFF)
      .sort((a, b) => Math.abs(a.length - usual) - Math.abs(b.length - usual));
    const header = above[0];
    const units = above.find(
      (cells) => cells !== header && cells.some((cell) => unitOf(cell) !== undefined) && cells.every(isShort),
    );
    best = { header, units, numbers, at, cells: at.map((k) => split[k]) };
  }
  return best;
}

/** Cells of the rows that hold most numbers: a preamble may have more rows, of fewer. */
function widest(rows: readonly (readonly string[])[]): { usual: number; numbers: number } {
  const perWidth = new Map<number, number>();
  for (const cells of rows)
    perWidth.set(cells.length, (perWidth.get(cells.length) ?? 0) + cells.filter(isNumber).length);
  const [usual = 0, numbers = 0] = [...perWidth].sort((a, b) => b[1] - a[1])[0] ?? [];
  return { usual, numbers };
}

function describe(rows: Rows, rowBytes: number): LogSample {
  const width = rows.cells[0].length;
  const header = rows.header?.map((name) => name.trim());
  const nameAt = (k: number) => {
    const name = header?.[k];
    return name && header.indexOf(name) === header.lastIndexOf(name) ? name : k + 1;
  };
  const guess = sniffDecimal(rows.cells.flatMap((cells) => cells.filter(isNumber)));
  const decimal: Decimal = 'decimal' in guess ? guess.decimal : '.';
  const columns = Array.from({ length: width }, (_, k): SampleColumn => {
    const cells = rows.cells.map((row) => row[k]);
    const inCells = unitInCells(cells);
    const values = Float64Array.from(cells, (cell) => readNumber(cell, decimal, inCells) ?? Number.NaN);
    return { name: nameAt(k), cells, values, unit: inCells ?? (rows.units?.[k]?.trim() || undefined), inCells };
  });
  const { time, stepS, open } = timeOf(columns);
  const rest = columns.filter(({ name }) => name !== time?.name && name !== time?.clock);
  const common = { rows: rows.cells.length, rowBytes, stepS, time, columns: columns.map(({ name }) => name) };
  const proposal = longColumns(rows.cells, columns, rest) ?? proposeColumns(rest);
  return { ...common, ...proposal, open: open === undefined ? proposal.open : { ...proposal.open, time: open } };
}

/** The same of a log with a row for each value, whose quantities are words in another column. */
function longColumns(
  cells: readonly (readonly string[])[],
  columns: readonly SampleColumn[],
  rest: readonly SampleColumn[],
): Proposal | undefined {
  const named = rest.filter(({ name }) => typeof name === 'string');
  const numbers = named.filter(({ cells: own }) => own.filter(isNumber).length > 0.5 * own.length);
  if (numbers.length !== 1) return undefined;
  const [value] = numbers;
  const at = (column: SampleColumn) => columns.indexOf(column);
  const others = named.filter((column) => column !== value).map(at);
  const mixed = mixedBy(cells, value.values, others);
  if (mixed === undefined) return undefined;
  const by = columns[mixed.by].name;
  const unitAt = others.find(
    (k) => k !== mixed.by && cells.every((row) => row[k].trim() === '' || unitOf(row[k]) !== undefined),
  );
  const called = new Map<string, string>();
  const quantities = mixed.groups.map(({ word }): SampleColumn => {
    let held = Number.NaN;
    const own = cells.map((row) => row[mixed.by].trim() === word);
    const unit = unitAt === undefined ? undefined : cells[own.indexOf(true)][unitAt].trim();
    const name = unit ? `${word} [${unit}]` : word;
    called.set(name, word);
    const values = value.values.map((reading, k) => {
      if (own[k]) held = reading;
      return held;
    });
    return { name, values, cells: value.cells };
  });
  const proposal = proposeColumns(quantities);
  const placed = <Unit>(column: ProposedColumn<Unit> | null): ProposedColumn<Unit> | null => {
    const word = called.get(String(column?.name));
    if (column === null || word === undefined) return null;
    return { ...column, name: word, where: { [String(by)]: word }, value: value.name };
  };
  const { voltage, current, temperature, channels, open } = proposal;
  const words = mixed.groups.slice(0, 3).map(({ word }) => `"${word}"`);
  return {
    ...proposal,
    open: voltage
      ? open
      : {
          ...open,
          voltage: `"${by}" says what "${value.name}" holds, such as ${words.join(', ')}; no voltage is among the first ${cells.length} rows. In place of the name say where: {${by}: its word for the voltage}, value: ${value.name}; and log.hold`,
        },
    voltage: placed(voltage),
    current: placed(current),
    temperature: placed(temperature),
    channels: channels.flatMap((channel) => placed(channel) ?? []),
  };
}

/** `open`: why no column is proposed, where something speaks for one. */
function timeOf(columns: readonly SampleColumn[]): {
  time: SampleTime | null;
  stepS: number | null;
  open?: string;
} {
  const most = ({ cells }: SampleColumn, test: RegExp) =>
    cells.filter((cell) => test.test(cell)).length > 0.8 * cells.length;
  const dated = columns.find((column) => most(column, DATE) && !most(column, NUMBER));
  if (dated) {
    const whole = most(dated, CLOCK);
    const clock = whole ? undefined : columns.find((column) => column !== dated && most(column, CLOCK));
    return withForm(dated, clock, `its cells are ${whole || !clock ? 'times' : 'dates'}, such as "${dated.cells[0]}"`);
  }
  const counts = columns.filter(({ name, values }) => {
    const rises =
      values.every((value, k) => k === 0 || value >= values[k - 1]) && values[values.length - 1] > values[0];
    const named = typeof name === 'string' && /time|zeit|elapsed|epoch|stamp|seconds|^t$|^t_/i.test(name);
    return rises && (named || values[0] >= 1e9);
  });
  // What tells most rows apart is the clock.
  const steps = ({ values }: SampleColumn) => new Set(values).size;
  const [counted] = counts
    .filter((column) => steps(column) * MOST_ROWS_A_STEP >= column.values.length)
    .sort((a, b) => steps(b) - steps(a));
  if (counted) return withForm(counted, undefined, `its numbers only rise, from ${counted.cells[0].trim()}`);
  const clock = columns.find((column) => most(column, CLOCK));
  const open = clock
    ? `${nameOf(clock)} holds times of day, such as "${clock.cells[0].trim()}", and no column the date`
    : counts[0] && `${nameOf(counts[0])} rises, but stands still for ${MOST_ROWS_A_STEP} rows and more`;
  return { time: null, stepS: null, open };
}

function withForm(column: SampleColumn, clock: SampleColumn | undefined, reason: string) {
  const { name } = column;
  const base = { name, clock: clock?.name, reason };
  try {
    // Begins at 0, so that a count from the start of the log is told from one since 1970.
    const form = timeForm(sessionAt(name, 0), { times: column.cells, clocks: clock?.cells });
    const formats = ['elapsed-s', 'elapsed-ms'].filter((format) =>
      form.how.startsWith(COUNT_WORDS[format as 'elapsed-s']),
    );
    const time: SampleTime = { ...base, elapsed: formats.length > 0, formats, how: form.how };
    return { time, stepS: stepOf(secondsOf(form, column, clock)) };
  } catch (error) {
    if (!(error instanceof UserError)) throw error;
    const formats = timeChoices(name, { times: column.cells, clocks: clock?.cells });
    const elapsed = formats.some((format) => format.startsWith('elapsed'));
    return { time: { ...base, elapsed, formats, how: null, reason: error.problems[0].message }, stepS: null };
  }
}

function secondsOf(form: TimeForm, column: SampleColumn, clock: SampleColumn | undefined): number[] {
  if (form.kind === 'number') return [...column.values].map((value) => value / 10 ** form.scale);
  return column.cells.map((cell, k) => {
    const ofDay = clock && form.clock ? form.clock(clock.cells[k].trim())?.seconds : 0;
    return (form.time(cell.trim())?.seconds ?? Number.NaN) + (ofDay ?? Number.NaN);
  });
}

/** The mean where the clock is coarser than the rows, so that most steps are nought. */
function stepOf(seconds: readonly number[]): number | null {
  const times = seconds.filter((value) => !Number.isNaN(value));
  const usual = median(times.slice(1).map((value, k) => value - times[k]));
  const step = usual > 0 ? usual : (times[times.length - 1] - times[0]) / (times.length - 1);
  return step > 0 ? Number(step.toPrecision(6)) : null;
}

/** The least that `timeForm` can be asked with. */
function sessionAt(name: string | number, startMs: number): Session {
  return {
    folder: '',
    id: 'sample',
    title: 'Sample',
    purpose: 'baseline',
    timezone: 'UTC',
    vehicle: { description: '', powertrain: 'combustion', systemV: 12 },
    battery: { chemistry: 'flooded' },
    log: {
      files: [],
      skipRows: 0,
      startMs,
      columns: { time: { name }, voltage: { name: '', unit: 'V' } },
      channels: [],
    },
    limits: {},
    install: {},
    notes: [],
    photos: [],
  };
}

const isShort = (cell: string) => cell.trim().length <= LONGEST_UNIT;

/** As `13.2V` says as well. */
function isNumber(cell: string): boolean {
  return NUMBER.test(unitOf(WITH_UNIT.exec(cell)?.[2]) === undefined ? cell : (WITH_UNIT.exec(cell)?.[1] ?? cell));
}

/** The unit that every filled cell ends with, as it stands there. */
function unitInCells(cells: readonly string[]): string | undefined {
  const filled = cells.filter((cell) => cell.trim() !== '');
  const unit = WITH_UNIT.exec(filled[0] ?? '')?.[2];
  return unitOf(unit) !== undefined && filled.every((cell) => WITH_UNIT.exec(cell)?.[2] === unit) ? unit : undefined;
}

function mean(values: readonly number[]): number {
  return values.reduce((sum, value) => sum + value, 0) / values.length;
}
