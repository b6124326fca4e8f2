/** Logs that run from new to old, as some programs export them: kept whole, and handed on from the end. */

import type { RawRows } from '../rows/raw-rows.ts';
import type { RowNote } from '../rows/row-reader.ts';
import type { OnRows } from './log-input.ts';

const LEAST_ROWS = 10;
const NEARLY_ALL = 0.9;

/** Whether times, as they stand in the file, fall from row to row. */
export function runsBackwards(times: readonly number[]): boolean {
  if (times.length < LEAST_ROWS) return false;
  const falls = times.filter((t, k) => k > 0 && t < times[k - 1]).length;
  const rises = times.filter((t, k) => k > 0 && t > times[k - 1]).length;
  return falls >= NEARLY_ALL * (falls + rises) && falls > 0;
}

/**
 * Collects batches, and hands them on in reverse at the end. Unlike all else here it needs memory for the whole file:
 * 8 bytes a value.
 */
export function reversed(onRows: OnRows): { readonly onRows: OnRows; readonly finish: () => void } {
  const batches: RawRows[] = [];
  const notes: RowNote[] = [];
  return {
    onRows(rows, rowNotes) {
      batches.push(reverse(rows));
      // The rows around them are no longer those before.
      for (const note of rowNotes) notes.push({ ...note, row: 0 });
    },
    finish() {
      for (const batch of batches.reverse()) onRows(batch, notes.splice(0));
    },
  };
}

function reverse({ n, t, values, line, twin }: RawRows): RawRows {
  return {
    n,
    t: t.slice(0, n).reverse(),
    values: values.map((column) => column.slice(0, n).reverse()),
    line: line.slice(0, n).reverse(),
    // A row that equals the one before it in the file now stands before that one; which of the two is told matters not.
    twin: Uint8Array.from({ length: n }, (_, k) => (k === 0 ? 0 : twin[n - k])),
  };
}
