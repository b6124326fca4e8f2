/** The last few thousand rows, for what came before a crank. */
import type { SampleBlock } from '../../log/block.ts';
import type { Row } from './raw-crank.ts';

const ROWS = 1 << 12;

export interface RowRing {
  /** Rows `from` up to `to` of a block, as far as there is room for them. */
  keep(block: SampleBlock, from: number, to: number): void;
  add(t: number, v: number, i: number, temp: number): void;
  /** Rows from time `t` on, in order, and always the last two. */
  since(t: number): Row[];
  /** Least current without its sign in the last `seconds`, A; a row without one counts as none, as do no rows. */
  leastA(seconds: number): number;
}

export function createRowRing(): RowRing {
  const [times, volts, amps, temps] = [column(), column(), column(), column()];
  let head = 0;
  return {
    keep({ t, v, i, temp }, from, to) {
      for (let row = Math.max(from, to - ROWS); row < to; ) {
        const at = (head + row - from) & (ROWS - 1);
        const end = Math.min(to, row + ROWS - at);
        times.set(t.subarray(row, end), at);
        volts.set(v.subarray(row, end), at);
        amps.set(i.subarray(row, end), at);
        temps.set(temp.subarray(row, end), at);
        row = end;
      }
      head += to - from;
    },
    add(t, v, i, temp) {
      const at = head++ & (ROWS - 1);
      times[at] = t;
      volts[at] = v;
      amps[at] = i;
      temps[at] = temp;
    },
    since(t) {
      const rows: Row[] = [];
      for (let k = Math.max(0, head - ROWS); k < head; k++) {
        const at = k & (ROWS - 1);
        if (times[at] >= t || k >= head - 2) rows.push([times[at], volts[at], amps[at], temps[at]]);
      }
      return rows;
    },
    leastA(seconds) {
      let least = Number.POSITIVE_INFINITY;
      const from = times[(head - 1) & (ROWS - 1)] - seconds;
      for (let k = head - 1; k >= Math.max(0, head - ROWS) && times[k & (ROWS - 1)] >= from; k--)
        least = Math.min(least, Math.abs(amps[k & (ROWS - 1)]) || 0);
      return Number.isFinite(least) ? least : 0;
    },
  };
}

const column = () => new Float64Array(ROWS);
