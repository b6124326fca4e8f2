/**
 * A channel that stands still while another shows that it cannot. A vehicle asleep is steady too, so a long rest alone
 * says nothing: the current is only called frozen when the voltage moves as it does with current, and the other way
 * round.
 */
import type { SampleBlock } from './block.ts';

/** Rows and time of one and the same value, at the least. */
const LEAST_ROWS = 20;
const LEAST_S = 60;
/** The other column's move is looked for within spans of this length, so that a slow discharge is none. */
const SPAN_S = 600;
// Common practice, no source. A volt within minutes takes tens of amperes; a hundred amperes move any battery by
// more than the coarsest logger's step.
const TELLING_V = 1;
const TELLING_A = 100;

export interface Frozen {
  readonly column: 'voltage' | 'current';
  readonly at: number;
  readonly seconds: number;
  readonly rows: number;
}

export interface FrozenFinder {
  push(block: SampleBlock): void;
  finish(): void;
}

export function createFrozenFinder(tell: (frozen: Frozen) => void): FrozenFinder {
  const current = createRun('current', TELLING_V, tell);
  const voltage = createRun('voltage', TELLING_A, tell);
  return {
    push({ n, t, v, i }) {
      current.push(n, t, i, v);
      voltage.push(n, t, v, i);
    },
    finish() {
      current.end();
      voltage.end();
    },
  };
}

function createRun(column: Frozen['column'], telling: number, tell: (frozen: Frozen) => void) {
  /** The last reading, when it was, and what the other column read then. */
  let value = Number.NaN;
  let valueT = 0;
  let valueOther = 0;
  /** Of the run of equal readings that goes on; 1 row is none. */
  let rows = 1;
  let from = 0;
  let spanFrom = 0;
  let low = 0;
  let high = 0;
  let widest = 0;

  function end(): void {
    if (rows >= LEAST_ROWS && valueT - from >= LEAST_S && Math.max(widest, high - low) >= telling) {
      tell({ column, at: from, seconds: valueT - from, rows });
    }
    rows = 1;
  }

  /** One more reading like the last. */
  function goOn(t: number, other: number): void {
    if (rows === 1) {
      from = spanFrom = valueT;
      low = high = valueOther;
      widest = 0;
    }
    if (t - spanFrom > SPAN_S) {
      widest = Math.max(widest, high - low);
      spanFrom = t;
      low = high = other;
    }
    if (other < low) low = other;
    if (other > high) high = other;
    rows++;
  }

  function push(n: number, t: Float64Array, readings: Float64Array, others: Float64Array): void {
    let last = value;
    let lastRow = -1;
    for (let row = 0; row < n; row++) {
      const reading = readings[row];
      // A row without one of the two says nothing of either.
      if (Number.isNaN(reading) || Number.isNaN(others[row])) continue;
      if (reading === last || rows > 1) {
        if (lastRow >= 0) [valueT, valueOther] = [t[lastRow], others[lastRow]];
        if (reading === last) goOn(t[row], others[row]);
        else end();
      }
      last = reading;
      lastRow = row;
    }
    if (lastRow < 0) return;
    value = last;
    valueT = t[lastRow];
    valueOther = others[lastRow];
  }

  return { push, end };
}
