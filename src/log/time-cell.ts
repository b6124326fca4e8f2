/**
 * A column of times as the row reader meets it: from row to row only seconds change, so all before them is compared
 * with the row before, byte by byte, and only the seconds are read. Anything else goes the careful way.
 */
import { POWER_OF_TEN } from './number.ts';
import type { TimeReader, TimeReading } from './time-text.ts';

const COMMA = 44;
const POINT = 46;

export interface TimeCell {
  readonly read: TimeReader;
  /** A comma may stand before the fraction: it is not the delimiter. */
  readonly commas: boolean;
  /** Whether its times name their offset from UTC: as the first one does, so must all. */
  zoned?: boolean;
  /** Bytes before the two digits of the seconds, and after the fraction, of the last time read with care. */
  prefix: Uint8Array;
  tail: Uint8Array;
  /** s at the full minute of that time; NaN before there is one. */
  minute: number;
  /** What the last successful `readQuick` found: s, and where the cell ended. */
  seconds: number;
  end: number;
}

export function createTimeCell(read: TimeReader, commas: boolean): TimeCell {
  const none = new Uint8Array(0);
  return { read, commas, prefix: none, tail: none, minute: Number.NaN, seconds: Number.NaN, end: 0 };
}

/** Reads a cell that starts at `at` and differs from the one before in its seconds only. False: read it with care. */
export function readQuick(cell: TimeCell, bytes: Uint8Array, at: number): boolean {
  const { prefix, tail } = cell;
  const digits = at + prefix.length;
  if (prefix.length === 0) return false;
  for (let k = 0; k < prefix.length; k++) if (bytes[at + k] !== prefix[k]) return false;
  const tens = bytes[digits] - 48;
  const ones = bytes[digits + 1] - 48;
  if (!(tens >= 0 && tens < 6 && ones >= 0 && ones < 10)) return false;
  let end = digits + 2;
  let seconds = cell.minute + tens * 10 + ones;
  if (bytes[end] === POINT || (bytes[end] === COMMA && cell.commas)) {
    const first = ++end;
    let fraction = 0;
    for (let d = bytes[end] - 48; d >= 0 && d <= 9; d = bytes[++end] - 48) fraction = fraction * 10 + d;
    const places = end - first;
    if (places === 0 || places > 9) return false;
    const scale = POWER_OF_TEN[places];
    seconds = places <= 6 ? (seconds * scale + fraction) / scale : seconds + fraction / scale;
  }
  for (let k = 0; k < tail.length; k++) if (bytes[end + k] !== tail[k]) return false;
  cell.seconds = seconds;
  cell.end = end + tail.length;
  return true;
}

/** Reads a cell's text with care, and remembers its form for `readQuick`. */
export function readWithCare(cell: TimeCell, text: string): TimeReading | undefined {
  const reading = cell.read(text);
  if (reading === undefined) return undefined;
  cell.zoned ??= reading.zoned;
  if (reading.zoned !== cell.zoned) return undefined;
  if (reading.secondsAt >= 0) {
    const after = text.slice(reading.secondsAt + 2);
    // Between commas a fraction behind a comma stands in quotes, and is always read with care.
    const quick = cell.commas || !after.startsWith(',');
    cell.prefix = Buffer.from(quick ? text.slice(0, reading.secondsAt) : '', 'latin1');
    cell.tail = Buffer.from(after.replace(/^[.,]\d{1,9}/, ''), 'latin1');
    cell.minute = reading.minute;
  }
  return reading;
}
