/**
 * What the log reader hands on: blocks of columns, in time order, and an account of everything wrong with the rows.
 * A value that a row lacks is NaN; a block always holds whole rows.
 */
export interface SampleBlock extends BlockColumns {
  /** Rows in this block; the arrays may be longer and are reused: copy what must stay. */
  readonly n: number;
}

export interface BlockColumns {
  /** s since 1970-01-01T00:00:00Z, never falling from row to row or block to block. */
  readonly t: Float64Array;
  /** V */
  readonly v: Float64Array;
  /** A, positive into the battery as the manifest states the sign; all NaN where the log has no current. */
  readonly i: Float64Array;
  /** °C */
  readonly temp: Float64Array;
  /** V, one array for each channel of the manifest, in its order. */
  readonly ch: readonly Float64Array[];
}

/** No block has more rows. */
export const MOST_ROWS = 6_144;
const COLUMN_BYTES = MOST_ROWS * Float64Array.BYTES_PER_ELEMENT;

/** Columns for a block's rows in a memory of `columnsBytes`, which another thread may share. */
export function createColumns(
  channels: number,
  buffer: ArrayBufferLike = new ArrayBuffer(columnsBytes(channels)),
): BlockColumns {
  const [t, v, i, temp, ...ch] = Array.from(
    { length: 4 + channels },
    (_, k) => new Float64Array(buffer, k * COLUMN_BYTES, MOST_ROWS),
  );
  return { t, v, i, temp, ch };
}

export function columnsBytes(channels: number): number {
  return (4 + channels) * COLUMN_BYTES;
}

/** Copies a block's rows. */
export function copyColumns({ n, t, v, i, temp, ch }: SampleBlock, to: BlockColumns): void {
  to.t.set(t.subarray(0, n));
  to.v.set(v.subarray(0, n));
  to.i.set(i.subarray(0, n));
  to.temp.set(temp.subarray(0, n));
  for (const [k, column] of ch.entries()) to.ch[k].set(column.subarray(0, n));
}

export type FaultKind =
  | 'gap'
  | 'clock-jump'
  | 'duplicate-rows'
  | 'out-of-order'
  | 'unreadable-row'
  | 'cut-short'
  | 'out-of-range'
  | 'frozen'
  | 'overlap'
  | 'ambiguous-time'
  | 'impossible-time'
  | 'empty';

export interface LogFault {
  readonly kind: FaultKind;
  /** s since the epoch, where it begins; null where no time can be told. */
  readonly at: number | null;
  /** Rows (or occurrences) concerned. */
  readonly count: number;
  /** Time that is lost or concerned, or by which a clock jumped (`found` says which way), s; 0 where none. */
  readonly seconds: number;
  /** File and line where it was first met, and what was found there, for a person. */
  readonly file?: string;
  readonly line?: number;
  readonly found?: string;
}

export interface LogFile {
  /** Relative to the session folder. */
  readonly name: string;
  readonly bytes: number;
  readonly sha256: string;
  readonly rows: number;
}

export interface LogAccount {
  readonly files: readonly LogFile[];
  /** Data rows read, of which `rowsRejected` gave no sample. */
  readonly rows: number;
  readonly rowsRejected: number;
  /** Lines that are no rows: headers, units, comments, blank lines. */
  readonly linesIgnored?: number;
  /** At most a few hundred; like faults next to each other are one entry with a count. */
  readonly faults: readonly LogFault[];
  /** Intervals without samples, in order of time: the last sample before each, s since the epoch, and its length, s. */
  readonly gaps: readonly { readonly at: number; readonly seconds: number }[];
  /** What the reader found out for itself, for the report: `delimiter`, `decimal`, `time format`, … */
  readonly understood: readonly { readonly what: string; readonly how: string }[];
}
