/**
 * A column of times as the row reader meets it: from row to row only seconds change, so all before them is compared
 * with the row before, byte by byte, and only the seconds are read. A date in a column of its own has none, and is
 * compared as a whole. Anything else goes the careful way.
 */
import { latin1Bytes } from '../../base/bytes.ts';
import type { TimeReader, TimeReading } from './time-text.ts';

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
  /** That time has no two digits of seconds: `prefix` is all of it, and `minute` what it means. */
  whole: boolean;
}

export function createTimeCell(read: TimeReader, commas: boolean): TimeCell {
  const none = new Uint8Array(0);
  return { read, commas, prefix: none, tail: none, minute: Number.NaN, whole: false };
}

/** Reads a cell's text with care, and remembers its form for the quick way. */
export function readWithCare(cell: TimeCell, text: string): TimeReading | undefined {
  const reading = cell.read(text);
  if (reading === undefined) return undefined;
  cell.zoned ??= reading.zoned;
  if (reading.zoned !== cell.zoned) return undefined;
  cell.whole = reading.secondsAt < 0;
  const secondsAt = cell.whole ? text.length : reading.secondsAt;
  const after = text.slice(secondsAt + 2);
  // Between commas a fraction behind a comma stands in quotes, and is always read with care.
  const quick = cell.commas || !after.startsWith(',');
  cell.prefix = latin1Bytes(quick ? text.slice(0, secondsAt) : '');
  cell.tail = latin1Bytes(after.replace(/^[.,]\d{1,9}/, ''));
  cell.minute = cell.whole ? reading.seconds : reading.minute;
  return reading;
}
