/** A table of the page: cells in words, at most fifty rows, a dozen on paper and, until more are asked for, on screen. All rows are in `tables/NAME.csv`. */
import { there } from '../../base/there.ts';

const MOST_ROWS = 50;
const MOST_PRINTED = 12;

export interface TableView {
  readonly id: string;
  /** Key of the caption among the labels. */
  readonly caption: string;
  readonly columns: readonly { readonly label: string; readonly number: boolean }[];
  /** The first cell of a row is a time, and kept on one line. */
  readonly times: boolean;
  /** The first cell of a row heads it. */
  readonly rows: readonly {
    readonly head: string;
    readonly cells: readonly { readonly text: string; readonly number: boolean }[];
    /** Not on paper. */
    readonly late: boolean;
    /** Folded on screen until it is asked for. */
    readonly rest: boolean;
    /** Where in the log it is, s from its start and how long: `1234.5 156`; null where it is of no one moment. */
    readonly at: string | null;
  }[];
  readonly total: number;
  /** How many rows are folded on screen; null where none are. */
  readonly folded: string | null;
  /** Set where rows were left out. */
  readonly shown: number | null;
  /** Set where rows are left out on paper. */
  readonly printed: number | null;
  readonly csv: string | null;
  /** Key of a sentence below it among the labels; null where its heads say enough. */
  readonly note: string | null;
}

/** @param columns label keys; one that ends in `#` holds numbers and stands to the right. */
export function table(
  id: string,
  caption: string,
  columns: readonly string[],
  rows: readonly (readonly string[])[],
  more: Partial<Pick<TableView, 'csv' | 'note'>> & { readonly at?: readonly string[] } = {},
): TableView {
  const { csv = null, note = null } = more;
  const heads = columns.map((key) => ({ label: key.replace('#', ''), number: key.endsWith('#') }));
  // Only a table that stands whole in a file of its own is cut short on paper.
  const printed = csv ? MOST_PRINTED : MOST_ROWS;
  return {
    id,
    caption,
    columns: heads,
    times: columns[0] === 'tables.start' || columns[0] === 'tables.at',
    rows: rows.slice(0, MOST_ROWS).map(([head = '', ...cells], row) => ({
      head,
      late: row >= printed,
      rest: row >= MOST_PRINTED,
      at: more.at?.[row] ?? null,
      cells: cells.map((text, index) => ({ text, number: there(heads[index + 1]).number })),
    })),
    total: rows.length,
    folded: rows.length > MOST_PRINTED ? String(Math.min(rows.length, MOST_ROWS) - MOST_PRINTED) : null,
    shown: rows.length > MOST_ROWS ? MOST_ROWS : null,
    printed: rows.length > printed ? printed : null,
    csv,
    note,
  };
}
