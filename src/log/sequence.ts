/** Rows of all files, in the order of the files, to blocks in order of time. */
import type { SampleBlock } from './block.ts';
import type { Ledger } from './ledger.ts';
import { BLOCK_ROWS, createRawRows, type RawRows } from './raw-rows.ts';

export interface Sequence {
  startFile(name: string, coarse: boolean): void;
  push(rows: RawRows): void;
  finish(): void;
  /** s, of the last row taken; null before the first. */
  lastT(): number | null;
  counts(): { taken: number; rejected: number };
}

export function createSequence(values: number, ledger: Ledger, onBlock: (block: SampleBlock) => void): Sequence {
  const out = createRawRows(values);
  let last = Number.NEGATIVE_INFINITY;
  let file = '';
  let taken = 0;
  let rejected = 0;

  function flush(): void {
    const [v, i, temp, ...ch] = out.values;
    if (out.n > 0) onBlock({ n: out.n, t: out.t, v, i, temp, ch });
    out.n = 0;
  }

  return {
    startFile(name) {
      file = name;
    },
    push(rows) {
      for (let row = 0; row < rows.n; row++) {
        const t = rows.t[row];
        if (t < last) {
          rejected++;
          ledger.tell({ kind: 'out-of-order', at: t, file, line: rows.line[row] });
          continue;
        }
        if (out.n === BLOCK_ROWS) flush();
        out.t[out.n] = t;
        for (let k = 0; k < values; k++) out.values[k][out.n] = rows.values[k][row];
        out.n++;
        taken++;
        last = t;
      }
    },
    finish: flush,
    lastT: () => (taken === 0 ? null : last),
    counts: () => ({ taken, rejected }),
  };
}
