/**
 * Values that stand until the next of their kind, at most for a while, as rows: one for each moment at which a value comes,
 * and others between them, so that what is held is not taken for a hole.
 */
import { BLOCK_ROWS, createRawRows, type RawRows } from '../rows/raw-rows.ts';

export interface Holder {
  /** Never earlier than the one before, as far as the log allows. */
  push(t: number, value: number, reading: number, line: number): void;
  finish(): void;
}

/**
 * @param values value columns of the session: 3 and the channels
 * @param holdS how long a value stands at the most
 * @param stepS between the rows that are put in
 */
export function createHolder(values: number, holdS: number, stepS: number, onRows: (rows: RawRows) => void): Holder {
  const rows = createRawRows(values);
  const held = Array.from({ length: values }, () => ({ reading: Number.NaN, until: Number.NEGATIVE_INFINITY }));
  let at = Number.NaN;
  let lineAt = 0;
  let last = Number.NaN;

  function emit(t: number, line: number): void {
    let any = false;
    for (const [value, { reading, until }] of held.entries()) {
      const now = t <= until ? reading : Number.NaN;
      rows.values[value][rows.n] = now;
      any ||= !Number.isNaN(now);
    }
    if (!any) return;
    rows.t[rows.n] = t;
    rows.line[rows.n] = line;
    rows.twin[rows.n] = 0;
    last = t;
    if (++rows.n === BLOCK_ROWS) flush();
  }

  function flush(): void {
    onRows(rows);
    rows.n = 0;
  }

  /** Rows up to a time, as long as a voltage is held: without one, nothing can be said of the vehicle. */
  function fill(until: number): void {
    for (let t = last + stepS; t < until - stepS / 2 && t <= held[0].until; t += stepS) emit(t, lineAt);
  }

  return {
    push(t, value, reading, line) {
      if (t !== at) {
        if (!Number.isNaN(at)) emit(at, lineAt);
        fill(t);
        at = t;
      }
      lineAt = line;
      held[value] = { reading, until: Number.isNaN(reading) ? Number.NEGATIVE_INFINITY : t + holdS };
    },
    finish() {
      if (!Number.isNaN(at)) emit(at, lineAt);
      flush();
    },
  };
}
