/**
 * Rows in order of time on their way out. The latest are held back for a while, so that a row that comes late still
 * finds its place.
 */
import { createColumns, MOST_ROWS, type SampleBlock } from '../block.ts';
import { BLOCK_ROWS, type RawRows } from './raw-rows.ts';
import { FIRST_CHANNEL } from './wanted.ts';

const HOLD = MOST_ROWS - BLOCK_ROWS;
/** Late by no more than so many rows, a row is put in its place even where no row is missing. */
const CLOSE_ROWS = 5;
const STEPS = 31;

/** One row by itself. */
export interface Row {
  /** s, as the file has it (of UTC). */
  readonly t: number;
  readonly values: readonly number[];
  readonly line: number;
  readonly twin: boolean;
}

export interface HeldRows {
  /** Rows `from` up to `to`, in order and not before the last. `shift` is added to their times. */
  appendRun(rows: RawRows, from: number, to: number, shift: number): void;
  append(row: Row, t: number): void;
  /** Puts a late row in its place; false where that has gone out, or where no row is missing at that time. */
  insert(row: Row, t: number): boolean;
  /** Whether a row of this time with these values is held. */
  includes(row: Row, t: number): boolean;
  /** Rows held with times between, both ends excluded. */
  countBetween(t0: number, t1: number): number;
  /** Time of the earliest row held, s; null where there is none. */
  oldest(): number | null;
  /** Median of the latest steps, s; NaN before there are two times. */
  step(): number;
  /** Rows ever put in, but for those taken back. */
  taken(): number;
  /** Lets go of all rows that are held; how many they were. */
  takeBack(): number;
  finish(): void;
}

/** `onBlock`: the arrays hold `ahead` rows in all, of which the block's are the first. */
export function createHeldRows(values: number, onBlock: (block: SampleBlock, ahead: number) => void): HeldRows {
  const { t, v, i, temp, ch } = createColumns(values - FIRST_CHANNEL);
  const columns = [v, i, temp, ...ch];
  let n = 0;
  let out = 0;

  /** Hands on all but the latest `keep`. */
  function release(keep: number): void {
    const count = Math.max(0, n - keep);
    if (count === 0) return;
    onBlock({ n: count, t, v, i, temp, ch }, n);
    t.copyWithin(0, count, n);
    for (const column of columns) column.copyWithin(0, count, n);
    n -= count;
    out += count;
  }

  function appendRun(rows: RawRows, from: number, to: number, shift: number): void {
    if (n + to - from > MOST_ROWS) release(HOLD);
    t.set(rows.t.subarray(from, to), n);
    if (shift !== 0) for (let k = n; k < n + to - from; k++) t[k] += shift;
    for (let c = 0; c < values; c++) columns[c].set(rows.values[c].subarray(from, to), n);
    n += to - from;
  }

  function append(row: Row, at: number): void {
    if (n === MOST_ROWS) release(HOLD);
    put(n, row, at);
    n++;
  }

  function put(k: number, row: Row, at: number): void {
    t[k] = at;
    for (let c = 0; c < values; c++) columns[c][k] = row.values[c];
  }

  /** First row later than `at`. */
  function after(at: number): number {
    let low = 0;
    for (let high = n; low < high; ) {
      const middle = (low + high) >> 1;
      if (t[middle] <= at) low = middle + 1;
      else high = middle;
    }
    return low;
  }

  function insert(row: Row, at: number): boolean {
    if (n === MOST_ROWS) release(HOLD);
    const k = after(at);
    // Before the first held there are rows that have gone, or nothing to say that a row is missing.
    if (k === 0 && out > 0) return false;
    const missing = k === n || (k > 0 && t[k] - t[k - 1] > 1.5 * step());
    if (!missing && n - k > CLOSE_ROWS) return false;
    t.copyWithin(k + 1, k, n);
    for (const column of columns) column.copyWithin(k + 1, k, n);
    put(k, row, at);
    n++;
    return true;
  }

  function includes(row: Row, at: number): boolean {
    for (let k = after(at) - 1; k >= 0 && t[k] === at; k--) {
      if (columns.every((column, c) => Object.is(column[k], row.values[c]))) return true;
    }
    return false;
  }

  function step(): number {
    const steps: number[] = [];
    for (let k = n - 1; k > 0 && steps.length < STEPS; k--) if (t[k] > t[k - 1]) steps.push(t[k] - t[k - 1]);
    return steps.length === 0 ? Number.NaN : steps.sort((a, b) => a - b)[steps.length >> 1];
  }

  return {
    appendRun,
    append,
    insert,
    includes,
    countBetween: (t0, t1) => {
      let count = 0;
      for (let k = after(t0); k < n && t[k] < t1; k++) count++;
      return count;
    },
    oldest: () => (n === 0 ? null : t[0]),
    step,
    taken: () => out + n,
    takeBack() {
      const count = n;
      n = 0;
      return count;
    },
    finish: () => release(0),
  };
}
