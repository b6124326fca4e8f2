/** One log file, of whatever kind, opened and understood, ready to give its rows. */
import type { Header } from '../rows/layout.ts';
import type { RawRows } from '../rows/raw-rows.ts';
import type { RowNote } from '../rows/row-reader.ts';
import type { PlacedColumn } from '../rows/wanted.ts';

/** What a Parquet file begins with. */
export const PARQUET_MAGIC = 'PAR1';

export interface LogInput {
  readonly name: string;
  /** On disk. */
  readonly bytes: number;
  /** First time in it, s; of UTC if `zoned`, else of the wall clock. Null where it has no rows. */
  readonly firstT: number | null;
  readonly zoned: boolean;
  /** Rows share time stamps as a rule. */
  readonly coarse: boolean;
  readonly columns: readonly PlacedColumn[];
  /** Of a text file that has one. */
  readonly header?: Header;
  /** What was found out, as `LogAccount.understood` has it. */
  readonly understood: readonly Understood[];
  /** Rows in the units of the file, in its order; the arrays are used again after `onRows` returns. */
  read(onRows: OnRows, onProgress: (bytes: number) => void): Promise<InputOutcome>;
  close(): Promise<void>;
}

export type OnRows = (rows: RawRows, notes: readonly RowNote[]) => void;

export interface Understood {
  readonly what: string;
  readonly how: string;
}

export interface InputOutcome {
  readonly sha256: string;
  /** Lines that are no rows. */
  readonly ignored: number;
  /** What was wrong with the file as a whole, in words. */
  readonly damage?: string;
  /** Data rows of the file, where they are not what `onRows` was given. */
  readonly rows?: number;
  /** Rows among them without a time that can be read, which were not handed on. */
  readonly unreadable?: { readonly count: number; readonly line: number; readonly found: string } | null;
}
