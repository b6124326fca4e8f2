/**
 * Bytes to rows. The quick way reads a plain row in place, digit by digit, without making a string; a row that holds
 * anything else (quotes, exponents, words, a new minute, damage) goes to the careful way, `careful-row.ts`.
 */
import { type CarefulRow, createCarefulRow } from './careful-row.ts';
import type { Encoding } from './encoding.ts';
import type { Layout } from './layout.ts';
import { POWER_OF_TEN } from './number.ts';
import { BLOCK_ROWS, createRawRows, type RawRows } from './raw-rows.ts';
import { createTimeCell, readQuick, type TimeCell } from './time-cell.ts';

const LF = 10;
const CR = 13;
const SPACE = 32;
const QUOTE = 34;
const PLUS = 43;
const MINUS = 45;
/** A line longer than this is garbage without line ends. */
const LONGEST_LINE = 1 << 20;

/** Something wrong with a line, told with the rows among which it stood. */
export interface RowNote {
  readonly kind: 'unreadable-row' | 'cut-short';
  /** Rows of the batch before it. */
  readonly row: number;
  readonly line: number;
  readonly found: string;
  /** False where the row gave a sample all the same. */
  readonly rejected: boolean;
}

export interface RowReader {
  push(chunk: Uint8Array): void;
  /** `torn`: the file is known to break off, so a last line without an end is not trusted. */
  end(torn: boolean): void;
  /** Lines that are no rows: before the data, blank, comments, a header written again. */
  ignored(): number;
  /** Whether the times name their offset from UTC. */
  zoned(): boolean;
}

export interface RowReaderOptions {
  readonly layout: Layout;
  readonly encoding: Encoding;
  /** Value columns of the session: 3 and the channels. */
  readonly values: number;
  /** Called with each full batch, and with the last. */
  readonly onRows: (rows: RawRows, notes: readonly RowNote[]) => void;
}

export function createRowReader({ layout, encoding, values, onRows }: RowReaderOptions): RowReader {
  const rows = createRawRows(values);
  let notes: RowNote[] = [];
  const { columns, time } = layout;
  const cells = columns.map(({ slot }): TimeCell | undefined => {
    if (time.kind === 'number' || slot.kind === 'value') return undefined;
    return createTimeCell(slot.kind === 'clock' && time.clock !== undefined ? time.clock : time.time);
  });
  const careful: CarefulRow = createCarefulRow(layout, cells);
  const targets = columns.map(({ slot }) => (slot.kind === 'value' ? rows.values[slot.value] : rows.t));
  const isTime = columns.map(({ slot }) => slot.kind !== 'value');
  /** Delimiters between the column before and this one, less the one that is eaten with that column. */
  const skips = columns.map(({ index }, k) => (k === 0 ? index : index - columns[k - 1].index - 1));
  const timeScale = time.kind === 'number' ? time.scale : 0;
  const startS = time.kind === 'number' ? time.startS : 0;
  const delimiter = layout.delimiter.charCodeAt(0);
  const point = layout.decimal.charCodeAt(0);
  const last = columns.length - 1;
  /** A row may end after the last wanted column. */
  const endsThere = layout.cells <= columns[last].index + 1;
  // Runs of spaces as a delimiter are for the careful way.
  const quickAllowed = delimiter !== SPACE;

  let work = new Uint8Array(1 << 19);
  let length = 0;
  /** Where the first unread line starts, and the line before it (for comparison), in `work`. */
  let next = 0;
  let before = 0;
  let line = 0;
  let ignored = 0;
  let lastT = Number.NaN;
  /** Within a line that is too long to be one. */
  let tooLong = false;

  function flush(): void {
    onRows(rows, notes);
    rows.n = 0;
    notes = [];
  }

  /** Reads the line at `at` in place; gives where its LF stands, or −1 where the line wants care. */
  function quick(bytes: Uint8Array, at: number, n: number): number {
    let p = at;
    let seconds = 0;
    for (let w = 0; w <= last; w++) {
      for (let skip = skips[w]; skip > 0; ) {
        const c = bytes[p++];
        if (c === delimiter) skip--;
        else if (c === LF || c === QUOTE) return -1;
      }
      const cell = cells[w];
      if (cell !== undefined) {
        if (!readQuick(cell, bytes, p)) return -1;
        seconds += cell.seconds;
        p = cell.end;
      } else {
        let c = bytes[p];
        while (c === SPACE) c = bytes[++p];
        const negative = c === MINUS;
        if (negative || c === PLUS) c = bytes[++p];
        const first = p;
        let mantissa = 0;
        while (c >= 48 && c <= 57) {
          mantissa = mantissa * 10 + (c - 48);
          c = bytes[++p];
        }
        let places = 0;
        if (c === point && c !== delimiter) {
          const from = ++p;
          c = bytes[p];
          while (c >= 48 && c <= 57) {
            mantissa = mantissa * 10 + (c - 48);
            c = bytes[++p];
          }
          places = p - from;
        }
        const size = p - first;
        // Beyond 2^53 the whole number is no longer exact.
        if (size > 17 || mantissa > Number.MAX_SAFE_INTEGER) return -1;
        if (isTime[w]) {
          if (size === 0 || negative) return -1;
          seconds += startS + mantissa / POWER_OF_TEN[places + timeScale];
        } else if (size === 0) {
          if (bytes[p - 1] === MINUS || bytes[p - 1] === PLUS) return -1;
          targets[w][n] = Number.NaN;
        } else if (size === 1 && places === 0 && bytes[first] === point) {
          return -1;
        } else {
          const value = places === 0 ? mantissa : mantissa / POWER_OF_TEN[places];
          targets[w][n] = negative ? -value : value;
        }
        while (c === SPACE) c = bytes[++p];
      }
      const c = bytes[p];
      if (c === delimiter) p++;
      else if (w !== last || !endsThere || !(c === LF || (c === CR && bytes[p + 1] === LF))) return -1;
    }
    rows.t[n] = seconds;
    for (const near = p + 64; p < near; p++) if (bytes[p] === LF) return p;
    return bytes.indexOf(LF, p);
  }

  function readLines(end: number): void {
    const bytes = work;
    while (next < end) {
      line++;
      let stop = line >= layout.firstLine && quickAllowed && !tooLong ? quick(bytes, next, rows.n) : -1;
      if (stop >= 0) commit(next, stop);
      else {
        stop = bytes.indexOf(LF, next);
        withCare(next, stop, false, false);
      }
      before = next;
      next = stop + 1;
      if (rows.n === BLOCK_ROWS) flush();
    }
  }

  function commit(start: number, stop: number): void {
    const { n } = rows;
    rows.line[n] = line;
    rows.twin[n] = rows.t[n] === lastT && sameLine(work, before, start, stop) ? 1 : 0;
    lastT = rows.t[n];
    rows.n = n + 1;
  }

  function withCare(start: number, stop: number, unfinished: boolean, torn: boolean): void {
    if (tooLong || line < layout.firstLine) {
      if (!tooLong) ignored++;
      tooLong = false;
      return;
    }
    const text = careful.text(work.subarray(start, stop), encoding);
    const result = careful.read(text, rows, { unfinished, torn });
    if (result.kind === 'ignored') ignored++;
    for (const found of result.notes) {
      notes.push({
        kind: result.cut ? 'cut-short' : 'unreadable-row',
        row: rows.n,
        line,
        found,
        rejected: result.kind === 'rejected',
      });
    }
    if (result.kind === 'row') commit(start, stop);
  }

  function push(chunk: Uint8Array): void {
    makeRoom(chunk.length);
    work.set(chunk, length);
    length += chunk.length;
    const end = work.lastIndexOf(LF, length - 1) + 1;
    if (end > next && end <= length) readLines(end);
    if (length - next > LONGEST_LINE) {
      if (!tooLong) {
        const found = `more than ${LONGEST_LINE} bytes without an end of line`;
        notes.push({ kind: 'unreadable-row', row: rows.n, line: line + 1, found, rejected: true });
      }
      tooLong = true;
      before = next = length;
    }
  }

  /** Moves what is still wanted to the front, and grows the buffer where that is not enough. */
  function makeRoom(more: number): void {
    work.copyWithin(0, before, length);
    length -= before;
    next -= before;
    before = 0;
    if (length + more <= work.length) return;
    const larger = new Uint8Array(Math.max(2 * work.length, length + more));
    larger.set(work.subarray(0, length));
    work = larger;
  }

  function end(torn: boolean): void {
    if (next < length) {
      line++;
      withCare(next, length, true, torn);
    }
    flush();
  }

  return {
    push,
    end,
    ignored: () => ignored,
    zoned: () => time.kind === 'number' || cells.some((cell) => cell?.zoned === true),
  };
}

function sameLine(bytes: Uint8Array, before: number, start: number, stop: number): boolean {
  if (start - before !== stop - start + 1) return false;
  for (let k = 0; k < stop - start; k++) if (bytes[before + k] !== bytes[start + k]) return false;
  return true;
}
