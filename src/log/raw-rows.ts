/** Rows as they come from a file, before their times are put in order. Arrays are reused. */
export const BLOCK_ROWS = 8192;

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

/** `n` counts value columns: 3 and the channels. */
export function createRawRows(values: number): RawRows {
  const columns = Array.from({ length: values }, () => new Float64Array(BLOCK_ROWS).fill(Number.NaN));
  return {
    n: 0,
    t: new Float64Array(BLOCK_ROWS),
    values: columns,
    line: new Float64Array(BLOCK_ROWS),
    twin: new Uint8Array(BLOCK_ROWS),
  };
}
