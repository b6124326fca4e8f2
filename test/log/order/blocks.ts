import type { SampleBlock } from '../../../src/log/block.ts';
import { blockOf as blockOfRows } from '../../analysis/blocks.ts';

/** `n` rows, `stepS` apart from 0 on; `read(k)`: volts and amperes of row k. */
export function blockOf(n: number, read: (k: number) => readonly [v: number, i: number], stepS = 1): SampleBlock {
  return blockOfRows(
    Array.from({ length: n }, (_, k) => {
      const [v, i] = read(k);
      return { t: k * stepS, v, i };
    }),
  );
}
