/** Readings that no battery and no sensor in its range can give, and times that no log can have: taken out, and told. */
import type { Session } from '../../manifest/session.ts';
import type { RawRows } from '../rows/raw-rows.ts';
import type { RowNote } from '../rows/row-reader.ts';
import type { PlacedColumn } from '../rows/wanted.ts';

// Common practice, no source: wide of anything a vehicle does, close enough to catch a loose plug or a wrong unit.
const MOST_TIMES_SYSTEM_V = 3.5;
const LEAST_V = -1;
const MOST_A = 5000;
const MOST_TIMES_RANGE = 1.5;
const LEAST_C = -60;
const MOST_C = 150;

export interface Range {
  /** Index among the value columns. */
  readonly value: number;
  readonly name: string;
  readonly unit: string;
  readonly low: number;
  readonly high: number;
}

/** In SI, for the columns that the log has. */
export function ranges(session: Session, columns: readonly PlacedColumn[]): Range[] {
  const highV = MOST_TIMES_SYSTEM_V * session.vehicle.systemV;
  const rangeA = session.log.columns.current?.rangeA;
  const highA = rangeA === undefined ? MOST_A : Math.min(MOST_A, MOST_TIMES_RANGE * rangeA);
  return columns.flatMap(({ slot, ref }) => {
    if (slot.kind !== 'value') return [];
    const { value } = slot;
    const name = String(ref.name);
    if (value === 1) return [{ value, name, unit: 'A', low: -highA, high: highA }];
    if (value === 2) return [{ value, name, unit: '°C', low: LEAST_C, high: MOST_C }];
    const drop = session.log.channels[value - 3]?.measures === 'drop';
    return [{ value, name, unit: 'V', low: drop ? -highV : LEAST_V, high: highV }];
  });
}

/** Puts NaN in place of readings out of range. */
export function takeOut(rows: RawRows, range: Range, tell: (row: number, value: number) => void): void {
  const column = rows.values[range.value];
  const { low, high } = range;
  for (let row = 0; row < rows.n; row++) {
    const value = column[row];
    if (value < low || value > high) {
      tell(row, value);
      column[row] = Number.NaN;
    }
  }
}

/** Clocks that were never set begin at 1900, 1904, 1970, 1980 or 2000; a day more, for times that are not of UTC. */
const FIRST_S = Date.UTC(1899, 11, 31) / 1000;
/** Common practice, no source: a logger that writes today is not read after this. */
const LAST_S = Date.UTC(2100, 0, 1) / 1000;
const NO_DATE = 'a time before 1900 or after 2099';

/** Whether a time, s, of UTC or of the wall clock, can be that of a row. */
export const isDate = (t: number) => t >= FIRST_S && t < LAST_S;

/** Takes out the rows whose time is no date; gives the notes, theirs among them, for the rows that stay. */
export function takeOutNoDates(rows: RawRows, notes: readonly RowNote[]): readonly RowNote[] {
  const { t, line, twin, values } = rows;
  let row = 0;
  while (row < rows.n && isDate(t[row])) row++;
  if (row === rows.n) return notes;
  const all = [...notes];
  /** Rows that stay, before each. */
  const before = new Uint32Array(rows.n + 1);
  let n = 0;
  for (row = 0; row < rows.n; row++) {
    before[row] = n;
    if (!isDate(t[row])) {
      all.push({ kind: 'unreadable-row', row, line: line[row], found: NO_DATE, rejected: true });
      continue;
    }
    t[n] = t[row];
    line[n] = line[row];
    twin[n] = twin[row];
    for (const column of values) column[n] = column[row];
    n++;
  }
  before[rows.n] = n;
  rows.n = n;
  return all.sort((a, b) => a.line - b.line).map((note) => ({ ...note, row: before[note.row] }));
}
