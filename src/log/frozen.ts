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
  // Fields take a new number in place, where a variable shared by functions makes one anew: short runs are very many.
  const run = { from: Number.NaN, spanFrom: Number.NaN, low: Number.NaN, high: Number.NaN, widest: Number.NaN };

  function end(lastT = valueT): void {
    const { from, low, high, widest } = run;
    if (rows >= LEAST_ROWS && lastT - from >= LEAST_S && Math.max(widest, high - low) >= telling) {
      tell({ column, at: from, seconds: lastT - from, rows });
    }
    rows = 1;
  }

  function begin(t: number, other: number): void {
    run.from = t;
    run.spanFrom = t;
    run.low = other;
    run.high = other;
    run.widest = 0;
  }

  /** One more reading like the last. */
  function goOn(t: number, other: number): void {
    if (t - run.spanFrom > SPAN_S) {
      run.widest = Math.max(run.widest, run.high - run.low);
      run.spanFrom = t;
      run.low = other;
      run.high = other;
    }
    if (other < run.low) run.low = other;
    if (other > run.high) run.high = other;
    rows++;
  }

  function push(n: number, t: Float64Array, readings: Float64Array, others: Float64Array): void {
    let last = value;
    let lastRow = -1;
    for (let row = 0; row < n; row++) {
      const reading = readings[row];
      // A row without one of the two says nothing of either.
      if (Number.isNaN(reading) || Number.isNaN(others[row])) continue;
      if (reading === last) {
        if (rows === 1) begin(lastRow < 0 ? valueT : t[lastRow], lastRow < 0 ? valueOther : others[lastRow]);
        goOn(t[row], others[row]);
      } else if (rows > 1) end(lastRow < 0 ? valueT : t[lastRow]);
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
