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
      for (let row = 0; row < n; row++) {
        current.push(t[row], i[row], v[row]);
        voltage.push(t[row], v[row], i[row]);
      }
    },
    finish() {
      current.end();
      voltage.end();
    },
  };
}

function createRun(column: Frozen['column'], telling: number, tell: (frozen: Frozen) => void) {
  let value = Number.NaN;
  let from = 0;
  let until = 0;
  let rows = 0;
  let spanFrom = 0;
  let low = Number.POSITIVE_INFINITY;
  let high = Number.NEGATIVE_INFINITY;
  let widest = 0;

  function end(): void {
    if (rows >= LEAST_ROWS && until - from >= LEAST_S && Math.max(widest, high - low) >= telling) {
      tell({ column, at: from, seconds: until - from, rows });
    }
    rows = 0;
  }

  function startSpan(t: number, other: number): void {
    widest = rows === 0 ? 0 : Math.max(widest, high - low);
    spanFrom = t;
    low = high = other;
  }

  function push(t: number, reading: number, other: number): void {
    // A row without one of the two says nothing of either.
    if (Number.isNaN(reading) || Number.isNaN(other)) return;
    if (reading !== value) {
      if (rows >= LEAST_ROWS) end();
      rows = 0;
      value = reading;
      from = t;
    }
    if (rows === 0 || t - spanFrom > SPAN_S) startSpan(t, other);
    else if (other < low) low = other;
    else if (other > high) high = other;
    rows++;
    until = t;
  }

  return { push, end };
}
