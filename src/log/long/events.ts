/** The values of a long log one by one, in the order of its file. */

import { joined } from '../../base/bytes.ts';
import { there } from '../../base/there.ts';
import type { ReadOutcome, Source } from '../files/source.ts';
import { textOf } from '../rows/encoding.ts';
import { POWER_OF_TEN, readNumber } from '../rows/number.ts';
import { splitLine } from '../rows/split.ts';
import { type LongLayout, matches, plainCell, readingOf } from './long-layout.ts';

export interface Event {
  /** s; of UTC where the times name their offset, else of the wall clock. */
  readonly t: number;
  /** Index among the quantities. */
  readonly quantity: number;
  /** In the unit of the file; NaN where the log says that there is none. */
  readonly value: number;
  readonly line: number;
}

/** What is told of a file when it has been read. */
export interface EventsEnd extends ReadOutcome {
  /** Rows with a time; what they are of matters to nobody. */
  readonly rows: number;
  /** Lines that are no rows. */
  readonly ignored: number;
  /** The first line whose time cannot be read, and how many there are. */
  readonly unreadable: { readonly count: number; readonly line: number; readonly found: string } | null;
}

/** What rows say they are of: for a message where one that is wanted never comes. */
export type Seen = Map<string, number>;
const MOST_SEEN = 500;

const LF = 10;
/** Bytes, and bytes without a row: as in logs of other forms. */
const LONGEST_LINE = 1 << 20;
const MOST_BARREN_BYTES = 1 << 26;
const withoutRows = (bytes: number) => `more than ${bytes} bytes without a row: what follows was not read`;

export async function* eventsOf(
  source: Source,
  layout: LongLayout,
  seen: Seen,
  onBytes: (bytes: number) => void,
): AsyncGenerator<Event[], EventsEnd> {
  let [line, rows, ignored] = [0, 0, 0];
  let unreadable: { count: number; line: number; found: string } | null = null;
  let rest: Uint8Array = new Uint8Array(0);
  const keys = layout.quantities[0]?.where.map(({ at }) => at) ?? [];

  const take = (bytes: Uint8Array): Event[] => {
    const events: Event[] = [];
    for (const text of textOf(bytes, source.encoding).split('\n')) {
      if (++line <= layout.headerLine || text.trim() === '') {
        ignored++;
        continue;
      }
      const row = splitLine(text.replace(/\r$/, ''), layout.delimiter);
      const t = timeOf(row, layout);
      if (t === undefined) {
        unreadable = {
          count: (unreadable?.count ?? 0) + 1,
          line: unreadable?.line ?? line,
          found: unreadable?.found ?? text.slice(0, 60),
        };
        continue;
      }
      rows++;
      const key = keys.map((at) => plainCell(row[at])).join(' / ');
      if (seen.has(key) || seen.size < MOST_SEEN) seen.set(key, (seen.get(key) ?? 0) + 1);
      for (const [quantity, one] of layout.quantities.entries()) {
        if (!matches(one, row)) continue;
        events.push({ t, quantity, value: readingOf(row[one.valueAt], layout.decimal, one.slot.unit), line });
      }
    }
    return events;
  };

  // Since the last row with a time.
  let [barren, rowsBefore] = [0, 0];
  const gaveUp = () => barren > MOST_BARREN_BYTES;
  const chunks = source.chunks(onBytes, gaveUp);
  for (;;) {
    const { done, value } = await chunks.next();
    if (done) {
      // Behind the last end of line there is nothing, or a row that nothing closes.
      const last = rest.length > 0 ? take(rest) : [];
      if (last.length > 0) yield last;
      const damage = gaveUp() ? withoutRows(MOST_BARREN_BYTES) : value.damage;
      return { ...value, damage, rows, ignored, unreadable };
    }
    const bytes = joined([rest, value]);
    const end = bytes.lastIndexOf(LF);
    // What has no end of line for so long is no row, and is let go.
    rest = bytes.length - end > LONGEST_LINE ? new Uint8Array(0) : bytes.subarray(end + 1);
    const events = end < 0 ? [] : take(bytes.subarray(0, end));
    barren = rows > rowsBefore ? 0 : barren + value.length;
    rowsBefore = rows;
    if (events.length > 0) yield events;
  }
}

function timeOf(row: readonly string[], { time, timeAt, clockAt, decimal }: LongLayout): number | undefined {
  const cell = (row[timeAt] ?? '').trim();
  if (time.kind === 'number') {
    const value = readNumber(cell, decimal);
    return value === undefined || Number.isNaN(value)
      ? undefined
      : time.startS + value / there(POWER_OF_TEN[time.scale]);
  }
  const seconds = time.time(cell)?.seconds;
  if (clockAt < 0 || time.clock === undefined) return seconds;
  const ofDay = time.clock((row[clockAt] ?? '').trim())?.seconds;
  return seconds === undefined || ofDay === undefined ? undefined : seconds + ofDay;
}
