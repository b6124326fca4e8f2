/**
 * A channel that stands still while another shows that it cannot. A vehicle asleep is steady too, so a long rest alone
 * says nothing: the current is only called frozen when the voltage moves as it does with current, and the other way
 * round.
 */
import type { SampleBlock } from '../block.ts';

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
  /** What the run of equal readings that goes on reads. */
  let value = Number.NaN;
  // Of that run, as far as it lies in blocks before.
  const run = { rows: 0, from: 0, to: 0, spanFrom: 0, low: 0, high: 0, widest: 0 };

  /** Rows `first` up to `stop`, all of one reading, as far as they have both. */
  function add(t: Float64Array, readings: Float64Array, others: Float64Array, first: number, stop: number): void {
    for (let row = first; row < stop; row++) {
      const other = others[row];
      if (Number.isNaN(readings[row]) || Number.isNaN(other)) continue;
      if (run.rows === 0) {
        run.from = t[row];
        run.widest = 0;
      }
      if (run.rows === 0 || t[row] - run.spanFrom > SPAN_S) {
        if (run.rows > 0) run.widest = Math.max(run.widest, run.high - run.low);
        run.spanFrom = t[row];
        run.low = other;
        run.high = other;
      }
      if (other < run.low) run.low = other;
      if (other > run.high) run.high = other;
      run.to = t[row];
      run.rows++;
    }
  }

  function end(): void {
    const { rows, from, to, low, high, widest } = run;
    if (rows >= LEAST_ROWS && to - from >= LEAST_S && Math.max(widest, high - low) >= telling) {
      tell({ column, at: from, seconds: to - from, rows });
    }
    run.rows = 0;
  }

  function push(n: number, t: Float64Array, readings: Float64Array, others: Float64Array): void {
    let last = value;
    let first = 0;
    for (let row = 0; row < n; row++) {
      const reading = readings[row];
      if (reading === last) continue;
      // A row without one of the two says nothing of either.
      if (Number.isNaN(reading) || Number.isNaN(others[row])) continue;
      // Nearly all runs are too short to be looked at.
      if (run.rows > 0 || row - first >= LEAST_ROWS) {
        add(t, readings, others, first, row);
        end();
      }
      last = reading;
      first = row;
    }
    add(t, readings, others, first, n);
    value = last;
  }

  return { push, end };
}
