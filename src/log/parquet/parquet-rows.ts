/** Values of Parquet columns as times and readings. */
import type { DecodedArray, SchemaElement } from 'hyparquet';
import { plainText } from '../../base/shown.ts';
import type { Session } from '../../manifest/session.ts';
import type { OnRows } from '../files/log-input.ts';
import { POWER_OF_TEN, readNumber } from '../rows/number.ts';
import { BLOCK_ROWS, type RawRows } from '../rows/raw-rows.ts';
import type { RowNote } from '../rows/row-reader.ts';
import type { PlacedColumn } from '../rows/wanted.ts';
import { type TimeForm, timeForm } from '../time/time-format.ts';
import type { TimeReader } from '../time/time-text.ts';

/** Timestamps as s since 1970, so that microseconds are not lost in a Date. */
export const PARSERS = {
  timestampFromMilliseconds: (ms: bigint) => Number(ms) / 1e3,
  timestampFromMicroseconds: (us: bigint) => Number(us) / 1e6,
  timestampFromNanoseconds: (ns: bigint) => Number(ns / 1_000_000_000n) + Number(ns % 1_000_000_000n) / 1e9,
  dateFromDays: (days: number) => days * 86_400,
};

export interface Times {
  readonly how: string;
  /** Of UTC; else of the wall clock. */
  readonly zoned: boolean;
  /** s, of the values of the time column and, where there is one, the clock column. Undefined where that is no time. */
  of(time: unknown, clock: unknown): number | undefined;
}

/** Timestamps explain themselves; numbers and text go by the manifest or are found, as in text logs. */
export function timesOf(
  session: Session,
  element: SchemaElement,
  sample: { readonly times: readonly unknown[]; readonly clocks?: readonly unknown[] },
): Times {
  const timestamp = /^TIMESTAMP/.test(element.logical_type?.type ?? element.converted_type ?? '');
  if ((timestamp || element.type === 'INT96') && sample.clocks === undefined) {
    const zoned = element.logical_type?.type === 'TIMESTAMP' ? element.logical_type.isAdjustedToUTC : true;
    const how = `timestamps${zoned ? '' : `, local to ${session.timezone}`}`;
    return { how, zoned, of: (time) => (typeof time === 'number' ? time : undefined) };
  }
  const words = (values: readonly unknown[]) => values.map((value) => String(value ?? ''));
  const form = timeForm(session, {
    times: words(sample.times),
    clocks: sample.clocks === undefined ? undefined : words(sample.clocks),
  });
  return form.kind === 'number' ? numberTimes(form) : textTimes(form, session, sample);
}

/** Rows are counted by who reads them. */
export const NO_TIMES: Times = { how: 'none in the log: rows are counted from log.start', zoned: true, of: () => 0 };

function numberTimes(form: TimeForm & { readonly kind: 'number' }): Times {
  const of = (time: unknown) => {
    const value = numberOf(time);
    return value === undefined || Number.isNaN(value) ? undefined : form.startS + value / POWER_OF_TEN[form.scale];
  };
  return { how: form.how, zoned: true, of };
}

function textTimes(
  form: TimeForm & { readonly kind: 'text' },
  session: Session,
  sample: { readonly times: readonly unknown[]; readonly clocks?: readonly unknown[] },
): Times {
  const { clock } = form;
  const read = (reader: TimeReader, value: unknown) => (typeof value === 'string' ? reader(value.trim()) : undefined);
  const first = sample.times.map((value) => read(form.time, value)).find((reading) => reading !== undefined);
  const firstClock =
    clock && sample.clocks?.map((value) => read(clock, value)).find((reading) => reading !== undefined);
  const zoned = first?.zoned === true || firstClock?.zoned === true;
  const of = (time: unknown, day: unknown) => {
    const reading = read(form.time, time);
    const ofDay = clock === undefined ? undefined : read(clock, day);
    if (reading === undefined || (clock !== undefined && ofDay === undefined)) return undefined;
    if ((reading.zoned || ofDay?.zoned === true) !== zoned) return undefined;
    return reading.seconds + (ofDay?.seconds ?? 0);
  };
  return { how: form.how + (zoned ? '' : `, local to ${session.timezone}`), zoned, of };
}

/** NaN where there is none, undefined where it is no number. */
function numberOf(value: unknown, unit?: string): number | undefined {
  if (typeof value === 'number') return Number.isFinite(value) ? value : Number.NaN;
  if (value === null || value === undefined) return Number.NaN;
  if (typeof value === 'bigint') return Number(value);
  return typeof value === 'string' ? readNumber(value, '.', unit) : undefined;
}

export interface ParquetGroup {
  /** 0-based, in the file. */
  readonly firstRow: number;
  readonly n: number;
  /** One array a column, in the order of `columns`. */
  readonly data: readonly DecodedArray[];
}

/** Hands on a group in batches; a row without a time is told as unreadable. */
export function rowsOfGroup(
  { firstRow, n, data }: ParquetGroup,
  columns: readonly PlacedColumn[],
  times: Times,
  rows: RawRows,
  onRows: OnRows,
): void {
  const time: DecodedArray | undefined = data[columns.findIndex(({ slot }) => slot.kind === 'time')];
  const clock = data[columns.findIndex(({ slot }) => slot.kind === 'clock')];
  let notes: RowNote[] = [];
  for (let k = 0; k < n; k++) {
    const row = rows.n;
    const line = firstRow + k + 1;
    const t = times.of(time?.[k], clock?.[k]);
    if (t === undefined) {
      const found = `no time: "${plainText(String(time?.[k]))}"`;
      notes.push({ kind: 'unreadable-row', row, line, found, rejected: true });
      continue;
    }
    rows.t[row] = t;
    rows.line[row] = line;
    let same = row > 0 && rows.t[row - 1] === t;
    for (const [c, { slot, ref }] of columns.entries()) {
      if (slot.kind !== 'value') continue;
      const value = numberOf(data[c][k], slot.unit);
      if (value === undefined) {
        const found = `${plainText(String(ref.name))}: "${plainText(String(data[c][k]))}"`;
        notes.push({ kind: 'unreadable-row', row, line, found, rejected: false });
      }
      const column = rows.values[slot.value];
      column[row] = value ?? Number.NaN;
      same &&= Object.is(column[row], column[row - 1]);
    }
    rows.twin[row] = same ? 1 : 0;
    rows.n++;
    if (rows.n === BLOCK_ROWS) {
      onRows(rows, notes);
      rows.n = 0;
      notes = [];
    }
  }
  onRows(rows, notes);
  rows.n = 0;
}
