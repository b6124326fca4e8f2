/** How a long log is laid out: a row for each value, which other cells of the row say what it is of. */
import { nearest } from '../../base/nearest.ts';
import { type Problem, UserError } from '../../base/problem.ts';
import { plainText } from '../../base/shown.ts';
import type { ColumnRef, Session } from '../../manifest/session.ts';
import { type Encoding, textOf } from '../rows/encoding.ts';
import { type Decimal, readNumber, sniffDecimal } from '../rows/number.ts';
import { splitLine } from '../rows/split.ts';
import { unitOf } from '../rows/unit-in-name.ts';
import { type Slot, wantedColumns } from '../rows/wanted.ts';
import { type TimeForm, timeForm } from '../time/time-format.ts';

const DELIMITERS = ['\t', ';', '|', ','] as const;
const HEADER_SEARCH = 200;
const SAMPLE_ROWS = 400;

/** Where a quantity's values stand, and in which rows. */
export interface Quantity {
  readonly slot: Slot & { readonly kind: 'value' };
  readonly ref: ColumnRef;
  readonly path: string;
  readonly valueAt: number;
  readonly where: readonly { readonly at: number; readonly is: string }[];
}

export interface LongLayout {
  readonly delimiter: string;
  readonly decimal: Decimal;
  /** 1-based. */
  readonly headerLine: number;
  readonly time: TimeForm;
  readonly timeAt: number;
  readonly clockAt: number;
  readonly quantities: readonly Quantity[];
  /** Whether the times name their offset from UTC. */
  readonly zoned: boolean;
}

export const isLong = ({ log }: Session) => log.columns.voltage.where !== undefined;

/** One spelling for a cell that is compared. */
export const plainCell = (cell: string | undefined) => (cell ?? '').trim().normalize('NFC');

/** Throws UserError where a column is not there, or where something is neither in the manifest nor certain. Undefined without rows. */
export function longLayout(
  session: Session,
  file: { readonly name: string; readonly head: Uint8Array; readonly headIsAll: boolean; readonly encoding: Encoding },
): LongLayout | undefined {
  const lines = textOf(file.head, file.encoding)
    .split('\n')
    .map((line) => line.replace(/\r$/, '').replace(/^\uFEFF/, ''));
  if (!file.headIsAll) lines.pop();
  if (lines.every((line) => line.trim() === '')) return undefined;
  const { cells, at, delimiter } = findHeader(session, lines);
  const places = placed(session, cells, file.name, at + 1);
  const rows = lines
    .slice(at + 1)
    .filter((line) => line.trim() !== '')
    .slice(0, SAMPLE_ROWS)
    .map((line) => splitLine(line, delimiter));
  if (rows.length === 0) return undefined;
  const clocks = places.clockAt < 0 ? undefined : rows.map((row) => row[places.clockAt] ?? '');
  const time = timeForm(session, { times: rows.map((row) => row[places.timeAt] ?? ''), clocks });
  const values = rows.map((row) => row[places.quantities[0]?.valueAt ?? -1] ?? '').filter((cell) => /\d/.test(cell));
  const guess = sniffDecimal(values);
  const decimal = session.log.decimal ?? ('decimal' in guess ? guess.decimal : '.');
  refuseUnits(places.quantities, rows, file.name);
  return { delimiter, decimal, headerLine: at + 1, time, ...places, zoned: zonedIn(time, rows, places.timeAt, clocks) };
}

function zonedIn(
  time: TimeForm,
  rows: readonly (readonly string[])[],
  at: number,
  clocks?: readonly string[],
): boolean {
  if (time.kind === 'number') return true;
  const read = rows.map((row) => time.time((row[at] ?? '').trim())).find((reading) => reading !== undefined);
  const clock = clocks?.map((cell) => time.clock?.(cell.trim())).find((reading) => reading !== undefined);
  return read?.zoned === true || clock?.zoned === true;
}

function namesOf({ log }: Session): string[] {
  const { time, voltage, current, temperature } = log.columns;
  const refs = [voltage, current, temperature, ...log.channels].filter((ref) => ref !== undefined);
  const names = [time?.name, time?.clock, ...refs.flatMap(({ where, value }) => [...Object.keys(where ?? {}), value])];
  return [...new Set(names.filter((name) => typeof name === 'string').map(plainCell))];
}

function findHeader(session: Session, lines: readonly string[]) {
  const names = namesOf(session);
  const delimiters = session.log.delimiter === undefined ? DELIMITERS : [session.log.delimiter];
  let best = { hits: -1, at: -1, delimiter: delimiters[0] as string, cells: [] as string[] };
  for (let at = session.log.skipRows; at < Math.min(lines.length, HEADER_SEARCH); at++) {
    for (const delimiter of delimiters) {
      const cells = splitLine(lines[at] ?? '', delimiter).map(plainCell);
      const hits = names.filter((name) => cells.includes(name)).length;
      if (hits > best.hits || (hits === best.hits && hits === 0 && cells.length > best.cells.length))
        best = { hits, at, delimiter, cells };
    }
    if (best.hits === names.length) break;
  }
  return best;
}

function placed(session: Session, cells: readonly string[], file: string, line: number) {
  const problems: Problem[] = [];
  const at = (name: string | number, ref: ColumnRef, path: string): number => {
    const index = typeof name === 'number' ? name - 1 : cells.indexOf(plainCell(name));
    if (index >= 0 && index < cells.length) return index;
    const near = typeof name === 'string' ? nearest(name, cells) : undefined;
    const has = cells.slice(0, 12).map((cell) => `"${plainText(cell)}"`);
    const message = `There is no column ${typeof name === 'number' ? name : `"${plainText(name)}"`} in the log: ${file} has ${has.join(', ')} (line ${line}).${near ? ` Did you mean "${plainText(near)}"?` : ''}`;
    problems.push({ file: 'session.yaml', line: ref.at?.line, column: ref.at?.column, path, message });
    return -1;
  };
  const { time } = session.log.columns;
  const timeAt = time ? at(time.name, time, 'log.columns.time') : -1;
  const clockAt = time?.clock === undefined ? -1 : at(time.clock, time, 'log.columns.time.clock');
  const quantities = wantedColumns(session).flatMap(({ slot, ref, path }): Quantity[] => {
    if (slot.kind !== 'value') return [];
    const where = Object.entries(ref.where ?? {}).map(([name, is]) => ({
      at: at(name, ref, `${path}.where`),
      is: plainCell(is),
    }));
    return [{ slot, ref, path, where, valueAt: at(ref.value ?? '', ref, `${path}.value`) }];
  });
  if (problems.length > 0) throw new UserError(problems);
  return { timeAt, clockAt, quantities };
}

export function matches({ where }: Quantity, row: readonly string[]): boolean {
  return where.every(({ at, is }) => plainCell(row[at]) === is);
}

/** A cell of the row that is a unit and nothing else is the log's own word on it. */
function refuseUnits(quantities: readonly Quantity[], rows: readonly (readonly string[])[], file: string): void {
  const problems = quantities.flatMap((quantity): Problem[] => {
    const { slot, ref, path, valueAt } = quantity;
    const own = rows.filter((row) => matches(quantity, row));
    const used = new Set([valueAt, ...quantity.where.map(({ at }) => at)]);
    const unitAt = (own[0] ?? []).findIndex(
      (_, at) => !used.has(at) && own.every((row) => unitOf(row[at]) !== undefined),
    );
    const stated = unitAt < 0 ? undefined : unitOf(own[0]?.[unitAt]);
    if (stated === undefined || stated === slot.unit) return [];
    const message = `The manifest says ${slot.unit}, and ${file} says ${stated} in the rows of "${plainText(String(ref.name))}". Correct the unit.`;
    return [{ file: 'session.yaml', line: ref.at?.line, column: ref.at?.column, path: `${path}.unit`, message }];
  });
  if (problems.length > 0) throw new UserError(problems);
}

/** A row's value: NaN where the log says that there is none, in whatever words. */
export function readingOf(cell: string | undefined, decimal: Decimal, unit: string): number {
  return readNumber(cell ?? '', decimal, unit) ?? Number.NaN;
}
