/**
 * Bytes to rows, in batches. Plain rows go the quick way, `plain-rows.ts`; what stops that is read by `careful-row.ts`.
 */

import { createTimeCell, type TimeCell } from '../time/time-cell.ts';
import { createCarefulRow } from './careful-row.ts';
import type { Encoding } from './encoding.ts';
import type { Layout } from './layout.ts';
import { createPlainRows, type Place } from './plain-rows.ts';
import { BLOCK_ROWS, type RawRows } from './raw-rows.ts';

const LF = 10;
/** A line longer than this is garbage without line ends. */
const LONGEST_LINE = 1 << 20;
/** Bytes taken in at once. */
const PIECE = 1 << 18;
/** So many lines, or bytes, without a row are no log any more: a packed file of nothing has billions of them. */
const MOST_BARREN_LINES = 4_000_000;
const MOST_BARREN_BYTES = 1 << 28;
/** Notes of one batch; lines that are no rows fill none. */
const MOST_NOTES = 4096;

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
  /** Why no more should be pushed, in words; undefined as a rule. */
  gaveUp(): string | undefined;
  /** Lines that are no rows: before the data, blank, comments, a header written again. */
  ignored(): number;
  /** Whether the times name their offset from UTC. */
  zoned(): boolean;
}

export interface RowReaderOptions {
  readonly plainRows: WebAssembly.Module;
  readonly layout: Layout;
  readonly encoding: Encoding;
  /** Value columns of the session: 3 and the channels. */
  readonly values: number;
  /** Called with each full batch, and with the last. */
  readonly onRows: (rows: RawRows, notes: readonly RowNote[]) => void;
}

export function createRowReader({ plainRows, layout, encoding, values, onRows }: RowReaderOptions): RowReader {
  const timeCells = layout.columns.map(({ slot }): TimeCell | undefined => {
    if (layout.time.kind === 'number' || slot.kind === 'value') return undefined;
    const { time, clock } = layout.time;
    return createTimeCell(slot.kind === 'clock' && clock !== undefined ? clock : time, layout.delimiter !== ',');
  });
  // The last line read, what has come of the next, and a piece more.
  const plain = createPlainRows(plainRows, layout, timeCells, values, 2 * (LONGEST_LINE + PIECE));
  const { rows, bytes: work } = plain;
  const careful = createCarefulRow(layout, timeCells);
  const place: Place = { next: 0, before: 0, line: 0, lastT: Number.NaN };
  let notes: RowNote[] = [];
  let length = 0;
  let ignored = 0;
  /** Within a line that is too long to be one, and has been told. */
  let tooLong = false;
  /** Since the last row. */
  let barrenLines = 0;
  let barrenBytes = 0;
  let taken = 0;

  function flush(): void {
    taken += rows.n;
    onRows(rows, notes);
    rows.n = 0;
    notes = [];
  }

  function readLines(end: number): void {
    while (place.next < end) {
      if (rows.n === BLOCK_ROWS || notes.length >= MOST_NOTES) flush();
      if (!tooLong && place.line + 1 >= layout.firstLine) plain.read(place, end);
      if (place.next < end && rows.n < BLOCK_ROWS)
        withCare(work.indexOf(LF, place.next), { unfinished: false, torn: false });
    }
  }

  /** Reads the next line, up to `stop`, and moves on behind it. */
  function withCare(stop: number, end: { readonly unfinished: boolean; readonly torn: boolean }): void {
    const { next: start, before } = place;
    const line = ++place.line;
    place.before = start;
    place.next = stop + 1;
    if (tooLong) {
      tooLong = false;
      return;
    }
    if (line < layout.firstLine) {
      ignored++;
      return;
    }
    const result = careful.read(careful.text(work.subarray(start, stop), encoding), rows, end);
    if (result.kind === 'ignored') ignored++;
    const kind = result.cut ? 'cut-short' : 'unreadable-row';
    for (const found of result.notes) {
      notes.push({ kind, row: rows.n, line, found, rejected: result.kind === 'rejected' });
    }
    if (result.kind !== 'row') return;
    const { n } = rows;
    rows.line[n] = line;
    rows.twin[n] = rows.t[n] === place.lastT && sameLine(work, before, start, stop) ? 1 : 0;
    place.lastT = rows.t[n];
    rows.n = n + 1;
  }

  function push(chunk: Uint8Array): void {
    for (let at = 0; at < chunk.length; at += PIECE) {
      const [rowsBefore, linesBefore] = [taken + rows.n, place.line];
      const piece = chunk.subarray(at, at + PIECE);
      pushPiece(piece);
      const barren = taken + rows.n === rowsBefore;
      barrenLines = barren ? barrenLines + place.line - linesBefore : 0;
      barrenBytes = barren ? barrenBytes + piece.length : 0;
    }
  }

  function gaveUp(): string | undefined {
    if (barrenLines > MOST_BARREN_LINES) return notRead(`${MOST_BARREN_LINES} lines`);
    return barrenBytes > MOST_BARREN_BYTES ? notRead(`${MOST_BARREN_BYTES} bytes`) : undefined;
  }

  function pushPiece(piece: Uint8Array): void {
    // What is still wanted, from the last line read on, moves to the front.
    work.copyWithin(0, place.before, length);
    length -= place.before;
    place.next -= place.before;
    place.before = 0;
    work.set(piece, length);
    length += piece.length;
    const end = work.lastIndexOf(LF, length - 1) + 1;
    if (end > place.next) readLines(end);
    if (length - place.next <= LONGEST_LINE) return;
    if (!tooLong) {
      const found = `more than ${LONGEST_LINE} bytes without an end of line`;
      notes.push({ kind: 'unreadable-row', row: rows.n, line: place.line + 1, found, rejected: true });
    }
    tooLong = true;
    place.before = place.next = length;
  }

  function end(torn: boolean): void {
    if (rows.n === BLOCK_ROWS) flush();
    if (place.next < length) withCare(length, { unfinished: true, torn });
    flush();
    plain.release();
  }

  return {
    push,
    end,
    gaveUp,
    ignored: () => ignored,
    zoned: () => layout.time.kind === 'number' || timeCells.some((cell) => cell?.zoned === true),
  };
}

const notRead = (much: string) => `more than ${much} without a row: what follows was not read`;

/** Whether the line that begins at `before` and ends before `start` is that from `start` to the LF at `stop`. */
function sameLine(bytes: Uint8Array, before: number, start: number, stop: number): boolean {
  if (start - before !== stop - start + 1) return false;
  for (let k = 0; k < stop - start; k++) if (bytes[before + k] !== bytes[start + k]) return false;
  return true;
}
