/** One line read with care: what it holds is a row, or nothing, or is told in words. */
import { plainText } from '../../base/shown.ts';
import { readWithCare, type TimeCell } from '../time/time-cell.ts';
import { type Encoding, textOf } from './encoding.ts';
import { decimalPlaces, type Layout, leastCells } from './layout.ts';
import { POWER_OF_TEN, readNumber } from './number.ts';
import type { RawRows } from './raw-rows.ts';
import { splitLine } from './split.ts';

export interface CarefulResult {
  /** `row`: its values stand at `rows.n`, which is not moved on. `ignored`: no data line. */
  readonly kind: 'row' | 'ignored' | 'rejected';
  readonly notes: readonly string[];
  /** The file breaks off in this line. */
  readonly cut: boolean;
}

export interface CarefulRow {
  text(bytes: Uint8Array, encoding: Encoding): string;
  read(line: string, rows: RawRows, end: { readonly unfinished: boolean; readonly torn: boolean }): CarefulResult;
}

const ROW: CarefulResult = { kind: 'row', notes: [], cut: false };
const IGNORED: CarefulResult = { kind: 'ignored', notes: [], cut: false };

/** `cells`: the time columns as the quick way sees them, in the order of `layout.columns`. */
export function createCarefulRow(layout: Layout, cells: readonly (TimeCell | undefined)[]): CarefulRow {
  const { columns, delimiter, decimal, countDecimal, time } = layout;
  const header = layout.header?.join('\n');
  const least = leastCells(layout);

  function read(text: string, rows: RawRows, end: { unfinished: boolean; torn: boolean }): CarefulResult {
    const line = text.replace(/^[\0\uFEFF]+/, '');
    const nulls = text.startsWith('\0') ? [`${text.length - line.length} null bytes`] : [];
    if (line.trim() === '') return nulls.length > 0 ? rejected(nulls, end.unfinished) : IGNORED;
    if (/^\s*(?:#|\/\/)/.test(line)) return IGNORED;
    const row = splitLine(line, delimiter);
    if (row.join('\n') === header) return IGNORED;
    if (end.unfinished && (end.torn || isCut(row))) return rejected([excerpt(line)], true);
    // Cells may be lacking behind the wanted ones, unless one of these is damaged: then they may have moved.
    const short =
      row.length < layout.cells
        ? rejected([`${row.length} of ${layout.cells} cells: ${excerpt(line)}`], end.unfinished)
        : undefined;
    if (short && row.length < least) return short;
    const seconds = readTime(row, cells);
    if (seconds === undefined) return short ?? rejected([`no time: ${excerpt(line)}`], false);
    const bad = readValues(row, rows);
    if (bad && short) return short;
    if (bad?.none) return rejected([bad.found], false);
    rows.t[rows.n] = seconds;
    if (bad === undefined && nulls.length === 0) return ROW;
    return { kind: 'row', notes: bad === undefined ? nulls : [...nulls, bad.found], cut: false };
  }

  function isCut(row: readonly string[]): boolean {
    if (row.length < layout.cells) return true;
    return layout.lastPlaces !== undefined && decimalPlaces(row[row.length - 1]) < layout.lastPlaces;
  }

  function readTime(row: readonly string[], timeCells: readonly (TimeCell | undefined)[]): number | undefined {
    let seconds = 0;
    for (const [k, { slot, index }] of columns.entries()) {
      if (slot.kind === 'value') continue;
      const text = (row[index] ?? '').trim();
      const timeCell = timeCells[k];
      const found = timeCell === undefined ? numberTime(text) : readWithCare(timeCell, text)?.seconds;
      if (found === undefined) return undefined;
      seconds += found;
    }
    return seconds;
  }

  function numberTime(text: string): number | undefined {
    if (time.kind !== 'number') return undefined;
    const value = readNumber(text, countDecimal);
    if (value === undefined || Number.isNaN(value)) return undefined;
    return time.startS + value / POWER_OF_TEN[time.scale];
  }

  /** Words for the first cell that is no number, and whether no cell is one; undefined where all is well. */
  function readValues(row: readonly string[], rows: RawRows): { found: string; none: boolean } | undefined {
    let found: string | undefined;
    let readable = 0;
    for (const { slot, index, ref } of columns) {
      if (slot.kind !== 'value') continue;
      const cell = row[index] ?? '';
      const value = readNumber(cell, decimal, slot.unit);
      rows.values[slot.value][rows.n] = value ?? Number.NaN;
      if (value === undefined) found ??= `${plainText(String(ref.name))}: ${excerpt(cell)}`;
      else if (!Number.isNaN(value)) readable++;
    }
    return found === undefined ? undefined : { found, none: readable === 0 };
  }

  return { text: (bytes, encoding) => textOf(bytes, encoding).replace(/\r$/, ''), read };
}

function rejected(notes: readonly string[], cut: boolean): CarefulResult {
  return { kind: 'rejected', notes, cut };
}

function excerpt(text: string): string {
  return `"${plainText(text.trim())}"`;
}
