/**
 * The quick way through plain rows: each is read in place, digit by digit, without making a string. A row that holds
 * anything else (quotes, exponents, words, a new minute, damage) stops it, and is read with care instead.
 */
import type { Layout } from './layout.ts';
import { POWER_OF_TEN } from './number.ts';
import { BLOCK_ROWS, type RawRows } from './raw-rows.ts';
import { readQuick, type TimeCell } from './time-cell.ts';

const LF = 10;
const CR = 13;
const SPACE = 32;
const QUOTE = 34;
const PLUS = 43;
const MINUS = 45;
const ZERO = 48;
const NINE = 57;
/** Nine digits always fit into 31 bits, and a sign between them makes ten bytes. */
const SHORT = 9;
const NONE = -1;

/** What the loop needs to know of a layout, in the forms that it reads fastest. */
export interface PlainPlan {
  readonly delimiter: number;
  readonly point: number;
  /** For each wanted column, the delimiters to pass before it. */
  readonly skips: Int32Array;
  readonly timeCells: readonly (TimeCell | undefined)[];
  readonly isTime: Uint8Array;
  /** Where readings go; times are added up. */
  readonly targets: readonly Float64Array[];
  /** A number that is a time is divided by 10^timeScale, and added to `startS`. */
  readonly timeScale: number;
  readonly startS: number;
  /** A row may end after the last wanted column. */
  readonly endsThere: boolean;
}

export function plainPlan(layout: Layout, timeCells: readonly (TimeCell | undefined)[], rows: RawRows): PlainPlan {
  const { columns, time } = layout;
  const last = columns[columns.length - 1];
  return {
    delimiter: layout.delimiter.charCodeAt(0),
    point: layout.decimal.charCodeAt(0),
    skips: Int32Array.from(columns, ({ index }, k) => (k === 0 ? index : index - columns[k - 1].index - 1)),
    timeCells,
    isTime: Uint8Array.from(columns, ({ slot }) => (slot.kind === 'value' ? 0 : 1)),
    targets: columns.map(({ slot }) => (slot.kind === 'value' ? rows.values[slot.value] : rows.t)),
    timeScale: time.kind === 'number' ? time.scale : 0,
    startS: time.kind === 'number' ? time.startS : 0,
    endsThere: layout.cells <= last.index + 1,
  };
}

/** Where reading stands; moved on by `readPlainRows`. */
export interface Place {
  /** Where the next line begins, and the one before it. */
  next: number;
  before: number;
  /** 1-based number of the line before `next`. */
  line: number;
  /** s, of the row before; NaN before the first. */
  lastT: number;
}

/** Reads rows up to `end`, which stands behind an LF, until one wants care or `rows` is full. */
export function readPlainRows(plan: PlainPlan, bytes: Uint8Array, end: number, place: Place, rows: RawRows): void {
  const { delimiter, point, skips, timeCells, isTime, targets, timeScale, startS, endsThere } = plan;
  const { t, line: lines, twin } = rows;
  const last = skips.length - 1;
  // As a delimiter, a run of spaces is one.
  const runs = delimiter === SPACE;
  let { next, before, line, lastT } = place;
  let { n } = rows;

  reading: while (next < end && n < BLOCK_ROWS) {
    let p = next;
    let seconds = 0;
    while (runs && bytes[p] === SPACE) p++;
    for (let w = 0; w <= last; w++) {
      for (let skip = skips[w]; skip > 0; ) {
        const c = bytes[p++];
        if (c === delimiter) {
          skip--;
          while (runs && bytes[p] === SPACE) p++;
        } else if (c === LF || c === QUOTE) break reading;
      }
      const cell = timeCells[w];
      if (cell !== undefined) {
        if (!readQuick(cell, bytes, p)) break reading;
        seconds += cell.seconds;
        p = cell.end;
      } else {
        let c = bytes[p];
        while (c === SPACE) c = bytes[++p];
        const signed = c === MINUS || c === PLUS;
        const negative = c === MINUS;
        if (signed) c = bytes[++p];
        const first = p;
        let whole = 0;
        while (c >= ZERO && c <= NINE) {
          whole = (Math.imul(whole, 10) + (c - ZERO)) | 0;
          c = bytes[++p];
        }
        let dot = NONE;
        if (c === point && point !== delimiter) {
          dot = p;
          c = bytes[++p];
          while (c >= ZERO && c <= NINE) {
            whole = (Math.imul(whole, 10) + (c - ZERO)) | 0;
            c = bytes[++p];
          }
        }
        const digits = p - first - (dot === NONE ? 0 : 1);
        const places = dot === NONE ? 0 : p - dot - 1;
        let mantissa = whole;
        if (digits > SHORT) {
          mantissa = longMantissa(bytes, first, p, dot);
          if (digits > 16 || mantissa > Number.MAX_SAFE_INTEGER) break reading;
        }
        if (isTime[w] === 1) {
          if (digits === 0 || negative) break reading;
          seconds += startS + mantissa / POWER_OF_TEN[places + timeScale];
        } else if (digits === 0) {
          // An empty cell; a sign or a point alone is something else.
          if (signed || dot !== NONE || runs) break reading;
          targets[w][n] = Number.NaN;
        } else {
          const value = places === 0 ? mantissa : mantissa / POWER_OF_TEN[places];
          targets[w][n] = negative ? -value : value;
        }
        while (c === SPACE && !runs) c = bytes[++p];
      }
      const c = bytes[p];
      if (c === delimiter) {
        p++;
        while (runs && bytes[p] === SPACE) p++;
      } else if (w !== last || !endsThere || !(c === LF || (c === CR && bytes[p + 1] === LF))) break reading;
    }
    const near = p + 64;
    while (p < near && bytes[p] !== LF) p++;
    if (bytes[p] !== LF) p = bytes.indexOf(LF, p);

    line++;
    t[n] = seconds;
    lines[n] = line;
    twin[n] = seconds === lastT && sameLine(bytes, before, next, p) ? 1 : 0;
    lastT = seconds;
    n++;
    before = next;
    next = p + 1;
  }
  place.next = next;
  place.before = before;
  place.line = line;
  place.lastT = lastT;
  rows.n = n;
}

/** The digits from `first` to `end`, without the sign at `dot`, as a whole number: exact up to 2^53. */
function longMantissa(bytes: Uint8Array, first: number, end: number, dot: number): number {
  let mantissa = 0;
  for (let p = first; p < end; p++) if (p !== dot) mantissa = mantissa * 10 + (bytes[p] - ZERO);
  return mantissa;
}

/** Whether the line that begins at `before` and ends before `start` is that from `start` to the LF at `stop`. */
export function sameLine(bytes: Uint8Array, before: number, start: number, stop: number): boolean {
  if (start - before !== stop - start + 1) return false;
  for (let k = 0; k < stop - start; k++) if (bytes[before + k] !== bytes[start + k]) return false;
  return true;
}
