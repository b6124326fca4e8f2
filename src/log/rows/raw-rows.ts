/** Rows as they come from a file, before their times are put in order. Arrays are reused. */
export const BLOCK_ROWS = 4096;
const COLUMN_BYTES = BLOCK_ROWS * Float64Array.BYTES_PER_ELEMENT;

export interface RawRows {
  n: number;
  /** s; of UTC or of the wall clock, as the file has it. */
  readonly t: Float64Array;
  /** v, i, temp, then the channels, in SI. NaN where the row has none. */
  readonly values: readonly Float64Array[];
  /** 1-based line (text) or row (Parquet). */
  readonly line: Float64Array;
  /** 1 where the row is in all its bytes the same as the one before. */
  readonly twin: Uint8Array;
}

/**
 * `n` counts value columns: 3 and the channels.
 *
 * @param buffer memory to lay the rows out in, `rawRowsBytes(n)` from `at` on
 */
export function createRawRows(n: number, buffer: ArrayBufferLike = new ArrayBuffer(rawRowsBytes(n)), at = 0): RawRows {
  const column = (k: number) => new Float64Array(buffer, at + k * COLUMN_BYTES, BLOCK_ROWS);
  return {
    n: 0,
    t: column(0),
    line: column(1),
    values: Array.from({ length: n }, (_, k) => column(k + 2).fill(Number.NaN)),
    twin: new Uint8Array(buffer, at + (n + 2) * COLUMN_BYTES, BLOCK_ROWS),
  };
}

export function rawRowsBytes(n: number): number {
  return (n + 2) * COLUMN_BYTES + BLOCK_ROWS;
}
