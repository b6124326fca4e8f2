/**
 * The quick way through plain rows, in WebAssembly: bytes are looked at 64 and digits 8 at once, which JavaScript cannot do.
 * Written in AssemblyScript. `plain-rows.ts` one folder up lays out the memory, sets the globals and calls `read`.
 *
 * First all delimiters are marked, so that the cells between them can be read without waiting for each other's end (the
 * idea of Langdale and Lemire, "Parsing gigabytes of JSON per second", 2019, from memory). Eight digits become a number in
 * three multiplications (Lemire and Muła, from memory). Everything needs a plain form; what has none stops the reading.
 */

const LF: u32 = 10;
const CR: u32 = 13;
const SPACE: u32 = 32;
const QUOTE: u32 = 34;
const PLUS: u32 = 43;
const COMMA: u32 = 44;
const MINUS: u32 = 45;
const POINT: u32 = 46;
const ZERO: u32 = 48;
const EACH: u64 = 0x0101010101010101;
const HIGH: u64 = 0x8080808080808080;
/** Largest whole number up to which a double holds all, and digits that may be below it. */
const MOST: u64 = 9007199254740991;
const MOST_DIGITS: u32 = 16;

// Set once for a file.
/** Byte between cells; byte before decimals, LF where that is the delimiter. */
export let delimiter: u32 = 0;
export let point: u32 = 0;
/** 1 where a row may end with the last wanted column. */
export let endsThere: u32 = 0;
/** Wanted columns, in the order of the file, and where their records (see below) lie. */
export let columns: u32 = 0;
export let columnsAt: usize = 0;
/** Where 10^0, 10^1 and so on lie, as doubles. */
export let powersAt: usize = 0;
/** A number that is a time is divided by 10^timeScale, and added to `startS`. */
export let timeScale: u32 = 0;
export let startS: f64 = 0;
/** Where a batch has its times (s), line numbers, and whether a row is the same as the one before; rows it takes. */
export let timesAt: usize = 0;
export let linesAt: usize = 0;
export let twinsAt: usize = 0;
export let room: u32 = 0;

// Moved on by `read`.
/** Where the next line begins, and the one before it. */
export let next: usize = 0;
export let before: usize = 0;
/** Number of the line before `next`, and its time. */
export let line: f64 = 0;
export let lastT: f64 = NaN;

// The record of a column.
/** Cells to pass before it. */
export const SKIP: u32 = 0;
export const KIND: u32 = 4;
/** Where its readings go. */
export const TARGET: u32 = 8;
/** Lengths of what stands before the seconds of a time, and behind them; whether a comma may stand before decimals. */
export const PREFIX: u32 = 12;
export const TAIL: u32 = 16;
export const COMMAS: u32 = 20;
/** s, at the full minute. */
export const MINUTE: u32 = 24;
export const PREFIX_TEXT: u32 = 32;
export const TAIL_TEXT: u32 = 96;
/** The last cell that was read, its length, and what it held. */
const CELL: u32 = 160;
const LENGTH: u32 = 168;
const HELD: u32 = 176;
export const RECORD: u32 = 192;
/** Most bytes of `PREFIX_TEXT` and `TAIL_TEXT`. */
export const TEXT: u32 = 64;
/** Kinds: a reading, a time that is a number, a time that is text, one of which nothing may change. */
export const VALUE: u32 = 0;
export const COUNT: u32 = 1;
export const CLOCK: u32 = 2;
export const WHOLE: u32 = 3;

/** What the last cell held. */
let found: f64 = 0;
/** 1 where the last byte that was marked is a space. */
let spaceBefore: u64 = 0;

/**
 * Reads rows up to `end`, which stands behind an LF, into the batch from row `n` on, until one has no plain form or the
 * batch is full; gives the rows that it holds then.
 */
export function read(n: u32, end: usize): u32 {
  spaceBefore = 0;
  let base = next;
  let marks = marked(base);
  while (next < end && n < room) {
    let mark = next - 1;
    let c = LF;
    let seconds: f64 = 0;
    let record = columnsAt;
    // As a delimiter a run of spaces is one; before the first cell it is none.
    let extra: u32 = delimiter === SPACE && <u32>load<u8>(next) === SPACE ? 1 : 0;
    for (let left = columns; left > 0; left--, record += RECORD) {
      let cell: usize = 0;
      for (let skip = load<u32>(record, SKIP) + extra; ; skip--) {
        while (marks === 0) marks = marked((base += 64));
        cell = mark + 1;
        mark = base + <usize>ctz(marks);
        marks &= marks - 1;
        c = load<u8>(mark);
        if (skip === 0) break;
        if (c !== delimiter) return n;
      }
      extra = 0;
      let stop = mark;
      if (c !== delimiter) {
        if (left > 1 || !endsThere || c !== LF) return n;
        if (<u32>load<u8>(mark - 1) === CR) stop--;
      }
      if (<u32>load<u8>(cell) === SPACE) cell = behindSpaces(cell, stop);
      if (<u32>load<u8>(stop - 1) === SPACE) stop = beforeSpaces(cell, stop);
      const kind = load<u32>(record, KIND);
      if (kind === VALUE) {
        const length = stop - cell;
        const bytes = load<u64>(cell);
        // Most cells hold what the one above them holds.
        const alike = length === load<u32>(record, LENGTH) && (bytes ^ load<u64>(record, CELL)) << (<u64>(8 - length) << 3) === 0;
        if (alike && length - 1 < 8) found = load<f64>(record, HELD);
        else {
          if (!readNumber(cell, stop, kind)) return n;
          store<u64>(record, bytes, CELL);
          store<u32>(record, <u32>length, LENGTH);
          store<f64>(record, found, HELD);
        }
        store<f64>(<usize>load<u32>(record, TARGET) + (<usize>n << 3), found);
      } else {
        if (kind === COUNT ? !readNumber(cell, stop, kind) : kind === CLOCK ? !readTime(record, cell, stop) : !isKnown(record, cell, stop))
          return n;
        seconds += found;
      }
    }
    // Spaces at the end of a row begin no cell.
    if (!endsThere && c === SPACE && delimiter === SPACE && <u32>load<u8>(behindSpaces(mark, end)) < SPACE) return n;
    while (c !== LF) {
      while (marks === 0) marks = marked((base += 64));
      mark = base + <usize>ctz(marks);
      marks &= marks - 1;
      c = load<u8>(mark);
    }
    line++;
    store<f64>(timesAt + (<usize>n << 3), seconds);
    store<f64>(linesAt + (<usize>n << 3), line);
    store<u8>(twinsAt + n, seconds === lastT && sameLine(before, next, mark) ? 1 : 0);
    lastT = seconds;
    n++;
    before = next;
    next = mark + 1;
  }
  return n;
}

/** One bit for each of 64 bytes: set where it is an LF, a quote, a delimiter, or the first of a run of them if that is a space. */
function marked(p: usize): u64 {
  const marks = marked16(p) | (marked16(p + 16) << 16) | (marked16(p + 32) << 32) | (marked16(p + 48) << 48);
  if (delimiter !== SPACE) return marks;
  const spaces = spaces16(p) | (spaces16(p + 16) << 16) | (spaces16(p + 32) << 32) | (spaces16(p + 48) << 48);
  const later = spaces & ((spaces << 1) | spaceBefore);
  spaceBefore = spaces >> 63;
  return marks & ~later;
}

function marked16(p: usize): u64 {
  const bytes = v128.load(p);
  const cells = i8x16.eq(bytes, i8x16.splat(<i8>delimiter));
  const lines = i8x16.eq(bytes, i8x16.splat(<i8>LF));
  const quotes = i8x16.eq(bytes, i8x16.splat(<i8>QUOTE));
  return <u64>i8x16.bitmask(v128.or(cells, v128.or(lines, quotes)));
}

function spaces16(p: usize): u64 {
  return <u64>i8x16.bitmask(i8x16.eq(v128.load(p), i8x16.splat(<i8>SPACE)));
}

function behindSpaces(p: usize, stop: usize): usize {
  while (p < stop && <u32>load<u8>(p) === SPACE) p++;
  return p;
}

function beforeSpaces(p: usize, stop: usize): usize {
  while (p < stop && <u32>load<u8>(stop - 1) === SPACE) stop--;
  return stop;
}

/** A cell that differs from the last one read with care in its seconds only. */
@inline
function readTime(record: usize, p: usize, stop: usize): bool {
  const prefix = load<u32>(record, PREFIX);
  const tail = load<u32>(record, TAIL);
  if (prefix === 0 || p + prefix + 2 + tail > stop || !same(record + PREFIX_TEXT, p, prefix)) return false;
  p += prefix;
  const tens = <u32>load<u8>(p) - ZERO;
  const ones = <u32>load<u8>(p, 1) - ZERO;
  if (tens > 5 || ones > 9) return false;
  p += 2;
  stop -= tail;
  let seconds = load<f64>(record, MINUTE) + <f64>(tens * 10 + ones);
  if (p < stop) {
    const c: u32 = load<u8>(p++);
    const places = <u32>(stop - p);
    if (!(c === POINT || (c === COMMA && load<u32>(record, COMMAS) !== 0)) || places === 0 || places > 9) return false;
    let fraction: u32 = 0;
    for (; p < stop; p++) {
      const digit = <u32>load<u8>(p) - ZERO;
      if (digit > 9) return false;
      fraction = fraction * 10 + digit;
    }
    const scale = load<f64>(powersAt + (places << 3));
    seconds = places <= 6 ? (seconds * scale + <f64>fraction) / scale : seconds + <f64>fraction / scale;
  }
  found = seconds;
  return same(record + TAIL_TEXT, p, tail);
}

/** A cell that is the last one read with care, byte for byte. */
function isKnown(record: usize, p: usize, stop: usize): bool {
  const length = load<u32>(record, PREFIX);
  found = load<f64>(record, MINUTE);
  return length > 0 && stop - p === length && same(record + PREFIX_TEXT, p, length);
}

/** A reading, NaN where the cell is empty, or a time that is a number. */
@inline
function readNumber(p: usize, stop: usize, kind: u32): bool {
  const c: u32 = load<u8>(p);
  const negative = c === MINUS;
  const signed = negative || c === PLUS;
  if (signed) p++;
  const length = <u32>(stop - p);
  if (length === 0) {
    // A sign alone is something else.
    found = NaN;
    return !signed && kind === VALUE && delimiter !== SPACE;
  }
  if (length > 8) return readLong(p, stop, negative, kind);
  // Digits become 0 to 9, with noughts before them.
  let digits = (load<u64>(p) ^ (EACH * <u64>ZERO)) << (<u64>(8 - length) << 3);
  let places: u32 = 0;
  // All other bytes are marked by their highest bit: there may be one, the point.
  const others = (((digits & ~HIGH) + EACH * 0x76) | digits) & HIGH;
  if (others !== 0) {
    const at = <u64>ctz(others) & ~7;
    const byte = <u32>(digits >> at) & 0xff;
    if ((others & (others - 1)) !== 0 || (byte ^ ZERO) !== point || length === 1) return false;
    digits = (((digits >> at) >> 8 << 8) << at) | ((digits & ((<u64>1 << at) - 1)) << 8);
    places = 7 - <u32>(at >> 3);
  }
  return keep(eightDigits(digits), places, negative, kind);
}

/** A number of nine bytes or more, one by one. */
function readLong(p: usize, stop: usize, negative: bool, kind: u32): bool {
  let mantissa: u64 = 0;
  let digits: u32 = 0;
  let pointAt: usize = 0;
  for (; p < stop; p++) {
    const byte: u32 = load<u8>(p);
    const digit = byte - ZERO;
    if (digit <= 9) {
      if (++digits > MOST_DIGITS) return false;
      mantissa = mantissa * 10 + digit;
    } else if (byte === point && pointAt === 0) pointAt = p;
    else return false;
  }
  if (mantissa > MOST) return false;
  return keep(mantissa, pointAt === 0 ? 0 : <u32>(stop - pointAt) - 1, negative, kind);
}

/** A whole number below 2^53 divided by a power of ten up to 10^22, both exact, is rounded once, as it should be. */
@inline
function keep(mantissa: u64, places: u32, negative: bool, kind: u32): bool {
  const whole = <f64>(<i64>mantissa);
  if (kind === COUNT) {
    found = startS + whole / load<f64>(powersAt + ((places + timeScale) << 3));
    return !negative;
  }
  const value = places === 0 ? whole : whole / load<f64>(powersAt + (places << 3));
  found = negative ? -value : value;
  return true;
}

/** Digits of 0 to 9, the first in the lowest byte. */
function eightDigits(digits: u64): u64 {
  const pairs = digits * 10 + (digits >> 8);
  const mask: u64 = 0x000000ff000000ff;
  return (((pairs & mask) * 0x000f424000000064 + ((pairs >> 16) & mask) * 0x0000271000000001) >> 32) & 0xffffffff;
}

function same(a: usize, b: usize, length: u32): bool {
  let k: usize = 0;
  for (; k + 8 <= <usize>length; k += 8) if (load<u64>(a + k) !== load<u64>(b + k)) return false;
  for (; k < <usize>length; k++) if (load<u8>(a + k) !== load<u8>(b + k)) return false;
  return true;
}

/** Whether the line that begins at `a` and ends before `b` is that from `b` to the LF at `stop`. */
function sameLine(a: usize, b: usize, stop: usize): bool {
  return b - a === stop - b + 1 && same(a, b, <u32>(stop - b));
}
