/**
 * The quick way through plain rows: `assembly/plain-rows.ts`, with its memory laid out here. A row that holds anything
 * else (quotes, exponents, words, a new minute, damage) stops it, and is to be read with care instead.
 *
 * Why it is WebAssembly: of four pairs of whole builds of 29 million rows on a busy machine, against the same way in JavaScript,
 * its processor time was 0.72, 0.90, 1.00 and 0.59 of that, its time on a nearly idle machine (the first pair) 0.79.
 */
import { UserError } from '../../base/problem.ts';
import type { TimeCell } from '../time/time-cell.ts';
import { type Layout, leastCells } from './layout.ts';
import { POWER_OF_TEN } from './number.ts';
import { BLOCK_ROWS, createRawRows, type RawRows, rawRowsBytes } from './raw-rows.ts';

const PAGE = 1 << 16;
const DOUBLE = Float64Array.BYTES_PER_ELEMENT;
/** A byte that stands in no cell: with it, none has decimals. */
const NO_POINT = '\n';
/** No column's record is larger. */
const MOST_RECORD = 256;
/** Bytes that may be looked at behind the last one. */
const BEYOND = 128;

type Setting = 'delimiter' | 'point' | 'endsThere' | 'columns' | 'columnsAt' | 'powersAt' | 'timeScale' | 'startS';
type Batch = 'timesAt' | 'linesAt' | 'twinsAt' | 'room';
type Field = 'SKIP' | 'KIND' | 'TARGET' | 'PREFIX' | 'TAIL' | 'COMMAS' | 'MINUTE' | 'PREFIX_TEXT' | 'TAIL_TEXT';
type Known = 'RECORD' | 'TEXT' | 'VALUE' | 'COUNT' | 'CLOCK' | 'WHOLE';

/** What the module exports; all but `read` and `memory` is said beside each in its source. */
type Exports = Readonly<Record<Setting | Batch | keyof Place | Field | Known, WebAssembly.Global>> & {
  readonly memory: WebAssembly.Memory;
  readonly read: (n: number, end: number) => number;
};

/** Where reading stands; moved on by `read`. */
export interface Place {
  /** Where the next line begins, and the one before it. */
  next: number;
  before: number;
  /** 1-based number of the line before `next`. */
  line: number;
  /** s, of the row before; NaN before the first. */
  lastT: number;
}

export interface PlainRows {
  /** The batch that is filled. */
  readonly rows: RawRows;
  /** The bytes that are read; lines lie in it as they lie in the file. */
  readonly bytes: Uint8Array;
  /** Reads rows up to `end`, which stands behind an LF, until one wants care or the batch is full. */
  read(place: Place, end: number): void;
  /** Gives the memory back; nothing of this may be used after it. */
  release(): void;
}

/** Of files read one after another, so that each need not ask the system for memory; of several read at once, some more. */
const idle: Exports[] = [];

/** Throws a `UserError` where the system has no memory for so many bytes. */
function instanceOf(module: WebAssembly.Module, bytes: number): Exports {
  try {
    const wasm = idle.pop() ?? (new WebAssembly.Instance(module).exports as unknown as Exports);
    const missing = bytes - wasm.memory.buffer.byteLength;
    if (missing > 0) wasm.memory.grow(Math.ceil(missing / PAGE));
    return wasm;
  } catch (error) {
    if (!(error instanceof RangeError)) throw error;
    throw new UserError(
      'There is no memory to read a log with: the system refuses what WebAssembly asks for. Close other programs, or raise the limit on a process (ulimit -v).',
    );
  }
}

/**
 * @param module the compiled `assembly/plain-rows.ts`; one and the same for a process
 * @param timeCells for each of the layout's columns, its times if they are text; what is read with care is known to them
 * @param values value columns of the session: 3 and the channels
 * @param room for so many bytes
 */
export function createPlainRows(
  module: WebAssembly.Module,
  layout: Layout,
  timeCells: readonly (TimeCell | undefined)[],
  values: number,
  room: number,
): PlainRows {
  const { columns, time } = layout;
  const columnsAt = POWER_OF_TEN.length * DOUBLE;
  const wasm = instanceOf(module, columnsAt + columns.length * MOST_RECORD + rawRowsBytes(values) + room + BEYOND);
  const rowsAt = columnsAt + columns.length * wasm.RECORD.value;
  const bytesAt = rowsAt + rawRowsBytes(values);
  const { buffer } = wasm.memory;
  const view = new DataView(buffer);
  const bytes = new Uint8Array(buffer, bytesAt, room);
  const rows = createRawRows(values, buffer, rowsAt);

  const set = (name: keyof Exports & (Setting | Batch), value: number) => {
    wasm[name].value = value;
  };
  new Float64Array(buffer, 0, POWER_OF_TEN.length).set(POWER_OF_TEN);
  set('powersAt', 0);
  set('columnsAt', columnsAt);
  set('columns', columns.length);
  set('delimiter', layout.delimiter.charCodeAt(0));
  set('point', (layout.decimal === layout.delimiter ? NO_POINT : layout.decimal).charCodeAt(0));
  set('endsThere', leastCells(layout) <= columns[columns.length - 1].index + 1 ? 1 : 0);
  set('timeScale', time.kind === 'number' ? time.scale : 0);
  set('startS', time.kind === 'number' ? time.startS : 0);
  set('timesAt', rows.t.byteOffset);
  set('linesAt', rows.line.byteOffset);
  set('twinsAt', rows.twin.byteOffset);
  set('room', BLOCK_ROWS);

  const recordAt = (k: number) => columnsAt + k * wasm.RECORD.value;
  const put = (k: number, field: Field, value: number) => {
    view.setUint32(recordAt(k) + wasm[field].value, value, true);
  };
  new Uint8Array(buffer, columnsAt, columns.length * wasm.RECORD.value).fill(0);
  for (const [k, { index, slot }] of columns.entries()) {
    const cell = timeCells[k];
    put(k, 'SKIP', k === 0 ? index : index - columns[k - 1].index - 1);
    put(k, 'KIND', (slot.kind === 'value' ? wasm.VALUE : cell === undefined ? wasm.COUNT : wasm.CLOCK).value);
    if (slot.kind === 'value') put(k, 'TARGET', rows.values[slot.value].byteOffset);
    if (cell?.commas) put(k, 'COMMAS', 1);
  }
  const known: (Uint8Array | undefined)[] = [];

  /** What the last time read with care looked like. */
  function learn(k: number, { prefix, tail, minute, whole }: TimeCell): void {
    put(k, 'KIND', (whole ? wasm.WHOLE : wasm.CLOCK).value);
    const fits = Math.max(prefix.length, tail.length) <= wasm.TEXT.value;
    put(k, 'PREFIX', fits ? prefix.length : 0);
    put(k, 'TAIL', tail.length);
    if (!fits) return;
    new Uint8Array(buffer, recordAt(k) + wasm.PREFIX_TEXT.value).set(prefix);
    new Uint8Array(buffer, recordAt(k) + wasm.TAIL_TEXT.value).set(tail);
    view.setFloat64(recordAt(k) + wasm.MINUTE.value, minute, true);
  }

  return {
    rows,
    bytes,
    read(place, end) {
      for (const [k, cell] of timeCells.entries()) {
        if (cell === undefined || cell.prefix === known[k]) continue;
        known[k] = cell.prefix;
        learn(k, cell);
      }
      wasm.next.value = bytesAt + place.next;
      wasm.before.value = bytesAt + place.before;
      wasm.line.value = place.line;
      wasm.lastT.value = place.lastT;
      rows.n = wasm.read(rows.n, bytesAt + end);
      place.next = wasm.next.value - bytesAt;
      place.before = wasm.before.value - bytesAt;
      place.line = wasm.line.value;
      place.lastT = wasm.lastT.value;
    },
    release() {
      idle.push(wasm);
    },
  };
}
