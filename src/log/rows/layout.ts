/** How a text log is laid out: delimiter, decimal sign, header, where the data begin and what its times look like. */
import { type Problem, UserError } from '../../base/problem.ts';
import { plainText } from '../../base/shown.ts';
import { lastOf, there } from '../../base/there.ts';
import type { Session } from '../../manifest/session.ts';
import { mixedBy } from '../long/mixed.ts';
import { type TimeForm, timeForm } from '../time/time-format.ts';
import { type Encoding, textOf } from './encoding.ts';
import { type Decimal, readNumber, signOfCounts, sniffDecimal } from './number.ts';
import { splitLine } from './split.ts';
import { unitOf } from './unit-in-name.ts';
import { namesIn, type PlacedColumn, placeColumns, type WantedColumn, wantedColumns, wrongUnit } from './wanted.ts';

/** The row of names of a file. */
export interface Header {
  readonly file: string;
  readonly cells: readonly string[];
}

export interface Layout {
  readonly delimiter: string;
  readonly decimal: Decimal;
  /** That of times that are counts. */
  readonly countDecimal: Decimal;
  /** Cells of the header; undefined where there is none. */
  readonly header?: readonly string[];
  /** 1-based; 0 where there is none. */
  readonly headerLine: number;
  /** Another file, whose header is taken to be this one's too. */
  readonly headerFile?: string;
  /** 1-based line of the first row; lines before it are no rows. */
  readonly firstLine: number;
  /** Most rows have so many; 0 where that differs from row to row. */
  readonly cells: number;
  /** Decimal places of the last cell where all rows have the same: fewer, in a last line without an end, is a cut. */
  readonly lastPlaces?: number;
  /** In the order of the file. */
  readonly columns: readonly PlacedColumn[];
  readonly time: TimeForm;
  /** Rows share time stamps as a rule: the clock is coarser than the rows. */
  readonly coarse: boolean;
}

/** In order of preference where two explain a file equally well. */
const DELIMITERS = ['\t', ';', '|', ',', ' '] as const;
/** Lines from the first that looks like a row on. */
const ROWS_SEARCH = 200;
const SAMPLE_ROWS = 400;

interface Rows {
  readonly delimiter: string;
  readonly header?: readonly string[];
  readonly headerFile?: string;
  /** 0-based index into the lines. */
  readonly headerAt: number;
  readonly columns: readonly PlacedColumn[];
  readonly firstAt: number;
}

/**
 * Throws UserError where a wanted column is not there, or where something is neither in the manifest nor certain.
 * Undefined where the file has no rows: empty, or a header alone.
 */
export function sniffLayout(
  session: Session,
  file: { readonly name: string; readonly head: Uint8Array; readonly headIsAll: boolean; readonly encoding: Encoding },
  like?: Header,
): Layout | undefined {
  const lines = textOf(file.head, file.encoding)
    .split('\n')
    .map((line) => line.replace(/\r$/, '').replace(/^\uFEFF/, ''));
  // The last line may be cut, by the head or by the logger.
  if (!file.headIsAll || lines.at(-1) === '') lines.pop();
  if (lines.every((line) => line.trim() === '')) return undefined;

  const wanted = wantedColumns(session);
  const named = wanted.some(({ ref }) => typeof ref.name === 'string');
  const rows = named
    ? rowsByHeader(session, file.name, lines, wanted, like)
    : rowsByNumber(session, file.name, lines, wanted);
  const sample = lines
    .slice(rows.firstAt, rows.firstAt + SAMPLE_ROWS)
    .filter((line) => line.trim() !== '')
    .map((line) => splitLine(line, rows.delimiter));
  if (sample.length === 0) return undefined;

  if (rows.header !== undefined) refuseMixed(session, rows.header, rows.columns, sample);

  const cellsOf = (kind: string) =>
    rows.columns.filter(({ slot }) => slot.kind === kind).flatMap(({ index }) => sample.map((row) => row[index] ?? ''));
  const times = cellsOf('time');
  const twoColumns = rows.columns.some(({ slot }) => slot.kind === 'clock');
  const clocks = twoColumns ? cellsOf('clock') : undefined;
  const time = timeForm(session, { times, clocks });
  const values = cellsOf('value');
  const sure = values.some((cell) => /[.,]/.test(cell));
  const decimal = session.log.decimal ?? decimalOf(file.name, rows.delimiter, sure ? values : times);
  const stamps = times.map((cell, k) => `${cell} ${clocks?.[k] ?? ''}`);
  return {
    delimiter: rows.delimiter,
    decimal,
    countDecimal: time.kind === 'number' ? signOfCounts(times, decimal) : decimal,
    header: rows.header,
    headerLine: rows.headerAt + 1,
    headerFile: rows.headerFile,
    firstLine: rows.firstAt + 1,
    cells: usualCells(sample),
    lastPlaces: samePlaces(sample.map((row) => row.at(-1) ?? '')),
    columns: rows.columns,
    time,
    coarse:
      session.log.stepS === undefined &&
      stamps.filter((stamp, k) => stamp === stamps[k - 1]).length > 0.05 * stamps.length + 1,
  };
}

/** A voltage among coolant temperatures is one row in many: whatever is made of all of them would be nonsense. */
function refuseMixed(
  session: Session,
  header: readonly string[],
  columns: readonly PlacedColumn[],
  rows: readonly (readonly string[])[],
): void {
  const voltage = columns.find(({ slot }) => slot.kind === 'value' && slot.value === 0);
  if (voltage === undefined) return;
  const decimals: readonly Decimal[] = session.log.decimal === undefined ? ['.', ','] : [session.log.decimal];
  const read = (cell: string) => decimals.map((sign) => readNumber(cell, sign)).find((value) => value !== undefined);
  const taken = columns.map(({ index }) => index);
  const others = header.flatMap((_, index) => (taken.includes(index) ? [] : [index]));
  const values = rows.map((row) => read(row[voltage.index] ?? '') ?? Number.NaN);
  const mixed = mixedBy(rows, values, others);
  if (mixed === undefined) return;
  const [name, by] = [plainText(String(voltage.ref.name)), plainText((header[mixed.by] ?? '').trim())];
  const said = mixed.groups
    .slice(0, 6)
    .map(({ word, middle }) => `"${plainText(word)}" (near ${Number(middle.toPrecision(3))})`);
  const like = mixed.groups.find(({ middle }) => middle > 5 && middle < 33) ?? mixed.groups[0];
  if (like === undefined) return;
  const message = `"${name}" holds several quantities, which "${by}" tells apart: ${said.join(', ')}. Say which rows are meant: where: {${by}: ${plainText(like.word)}}, value: ${name} in place of the name, and log.hold.`;
  const { line, column } = voltage.ref.at ?? {};
  throw new UserError([{ file: 'session.yaml', line, column, path: 'log.columns.voltage.name', message }]);
}

function delimitersFor(session: Session): readonly string[] {
  return session.log.delimiter === undefined ? DELIMITERS : [session.log.delimiter];
}

/** The header is the first line that has every wanted name; that also settles the delimiter. */
function rowsByHeader(
  session: Session,
  file: string,
  lines: readonly string[],
  wanted: readonly WantedColumn[],
  like?: Header,
): Rows {
  const goal = wanted.filter(({ ref }) => typeof ref.name === 'string').length;
  const skip = session.log.skipRows;
  let best = { hits: 0, at: -1, delimiter: '', cells: [] as string[] };
  for (let at = skip; at < lines.length && best.hits < goal; at++) {
    for (const delimiter of delimitersFor(session)) {
      const cells = splitLine(lines[at] ?? '', delimiter);
      const hits = namesIn(cells, wanted);
      if (hits > best.hits) best = { hits, at, delimiter, cells };
    }
  }
  const rows = best.hits === 0 && like !== undefined ? rowsLike(like, session, lines, wanted) : undefined;
  if (rows !== undefined) return rows;
  if (best.hits === 0) best = { hits: 0, ...likelyHeader(delimitersFor(session), lines, skip) };
  const line = best.at + 1;
  const columns = placeColumns(wanted, { cells: best.cells, file, line });
  let firstAt = best.at + 1;
  // Rows of units or descriptions below the header: no number in any wanted column.
  while (
    firstAt < Math.min(lines.length - 1, best.at + 4) &&
    isPreamble(lines[firstAt] ?? '', best.delimiter, columns)
  ) {
    refuseUnits(columns, splitLine(lines[firstAt] ?? '', best.delimiter), { file, line: firstAt + 1 });
    firstAt++;
  }
  return { delimiter: best.delimiter, header: best.cells, headerAt: best.at, columns, firstAt };
}

/** A row of units below the names is the log's own word on them. */
function refuseUnits(columns: readonly PlacedColumn[], cells: readonly string[], at: { file: string; line: number }) {
  const problems = columns.flatMap((column): Problem[] => {
    const { slot, ref, index, path } = column;
    const stated = unitOf(cells[index]?.replace(/^\s*[[(](.*)[\])]\s*$/, '$1'));
    if (slot.kind !== 'value' || stated === undefined || stated === slot.unit || typeof ref.name === 'number')
      return [];
    const message = wrongUnit(
      column,
      stated,
      `"${plainText((cells[index] ?? '').trim())}" in line ${at.line} of ${at.file}`,
      index,
    );
    return [{ file: 'session.yaml', line: ref.at?.line, column: ref.at?.column, path: `${path}.unit`, message }];
  });
  if (problems.length > 0) throw new UserError(problems);
}

/** A file without names that goes on where another began: as many cells, and what is wanted in their places. */
function rowsLike(like: Header, session: Session, lines: readonly string[], wanted: readonly WantedColumn[]) {
  const columns = placeColumns(wanted, { ...like, line: 0 });
  const { rows, delimiter, firstAt } = mostRows(session, lines, columns);
  if (rows === 0 || splitLine(lines[firstAt] ?? '', delimiter).length !== like.cells.length) return undefined;
  return { delimiter, headerAt: -1, headerFile: like.file, columns, firstAt };
}

function isPreamble(line: string, delimiter: string, columns: readonly PlacedColumn[]): boolean {
  const cells = splitLine(line, delimiter);
  return columns.every(({ index, slot }) => {
    const cell = cells[index] ?? '';
    return slot.kind === 'value' ? !/^\s*[+-]?[\d.,]*\d/.test(cell) : !/\d/.test(cell);
  });
}

/** For the message only: where no wanted name was found, the line that would be the header. */
function likelyHeader(delimiters: readonly string[], lines: readonly string[], skip: number) {
  let best = { at: -1, delimiter: delimiters[0] ?? '', cells: [''] };
  for (let at = skip; at < Math.min(lines.length, skip + 20); at++) {
    for (const delimiter of delimiters) {
      const cells = splitLine(lines[at] ?? '', delimiter);
      if (cells.length > best.cells.length) best = { at, delimiter, cells };
    }
  }
  return best;
}

/** Without names, the delimiter is the one that gives the most rows with a time and a voltage in their places. */
function rowsByNumber(session: Session, file: string, lines: readonly string[], wanted: readonly WantedColumn[]): Rows {
  const numbered = wanted.map((column) => ({ ...column, index: (column.ref.name as number) - 1 }));
  const best = mostRows(session, lines, numbered);
  const headerAt = -1;
  const skip = session.log.skipRows;
  const shown = best.rows > 0 ? best : { ...likelyHeader(delimitersFor(session), lines, skip), firstAt: skip };
  const cells = splitLine(lines[shown.firstAt] ?? '', shown.delimiter);
  const columns = placeColumns(wanted, { cells, file, line: 0 });
  return { delimiter: shown.delimiter, headerAt, columns, firstAt: shown.firstAt };
}

/** How many rows the best delimiter gives, and where the first of them stands. */
function mostRows(session: Session, lines: readonly string[], columns: readonly PlacedColumn[]) {
  const skip = session.log.skipRows;
  let best = { rows: 0, delimiter: DELIMITERS[0] as string, firstAt: skip };
  for (const delimiter of delimitersFor(session)) {
    let rows = 0;
    let firstAt = -1;
    for (let at = skip; at < lines.length && (firstAt < 0 || at < firstAt + ROWS_SEARCH); at++) {
      const cells = splitLine(lines[at] ?? '', delimiter);
      if (!looksLikeRow(cells, columns, session.log.decimal)) continue;
      if (firstAt < 0) firstAt = at;
      rows++;
    }
    if (rows > best.rows) best = { rows, delimiter, firstAt };
  }
  return best;
}

function looksLikeRow(cells: readonly string[], columns: readonly PlacedColumn[], decimal?: Decimal): boolean {
  return columns.every(({ slot, index, path }) => {
    const cell = cells[index];
    if (cell === undefined) return false;
    if (slot.kind !== 'value') return /\d/.test(cell) && /^[\d\s:.,/TZ+\-AaPpMm]+$/.test(cell);
    const decimals: readonly Decimal[] = decimal === undefined ? ['.', ','] : [decimal];
    const readable = decimals.some((sign) => readNumber(cell, sign, slot.unit) !== undefined);
    return readable && (path !== 'log.columns.voltage' || cells.length > 1);
  });
}

function decimalOf(file: string, delimiter: string, cells: readonly string[]): Decimal {
  const guess = sniffDecimal(cells);
  if ('decimal' in guess) return guess.decimal;
  const named = delimiter === ',' ? ' in quotes' : '';
  throw new UserError([
    {
      file: 'session.yaml',
      path: 'log.decimal',
      message: `${file} has numbers such as "${plainText(guess.unsure)}"${named}, which could be two things: say decimal: "," if the comma is the decimal sign, or decimal: "." if it parts thousands.`,
    },
  ]);
}

/** With fewer cells a row was cut among those that are wanted, or in the last of them: it lacks what closes it. */
export function leastCells({ cells, columns }: Layout): number {
  return Math.min(cells, lastOf(columns).index + 2);
}

/** The number of cells that most rows have; 0 where rows of different length are the rule, so that none counts as cut. */
function usualCells(sample: readonly (readonly string[])[]): number {
  const counts = new Map<number, number>();
  for (const row of sample) counts.set(row.length, (counts.get(row.length) ?? 0) + 1);
  const [usual] = there([...counts].sort((a, b) => b[1] - a[1] || b[0] - a[0])[0]);
  const shorter = sample.filter((row) => row.length < usual).length;
  return shorter > 0.1 * sample.length + 1 ? 0 : usual;
}

/** Digits after the decimal sign; 0 without one. */
export function decimalPlaces(cell: string): number {
  return /[.,](\d*)\s*$/.exec(cell)?.[1]?.length ?? 0;
}

function samePlaces(cells: readonly string[]): number | undefined {
  // The last may be the cut one.
  const [first, ...others] = cells.slice(0, -1).map(decimalPlaces);
  return others.length >= 20 && others.every((places) => places === first) ? first : undefined;
}
