import { expect, it } from 'vitest';
import { createCheckpoints } from '../../../src/log/order/checkpoints.ts';
import { blockOf } from './blocks.ts';

const rowsOf = (from: number, to: number, v: (t: number) => number) =>
  Array.from({ length: to - from }, (_, k) => ({ t: from + k, values: [v(from + k), 0], line: k, twin: false }));

it('knows a block that comes again, across blocks, and one that only has the same times', () => {
  const checkpoints = createCheckpoints();
  const v = (t: number) => 12 + (t % 7) / 10;
  const whole = blockOf(3000, (k) => [v(k), 0]);
  // Cut where no checkpoint is: every 256th row is one, counted over all blocks.
  const part = (from: number, to: number) => ({
    ...whole,
    n: to - from,
    t: whole.t.subarray(from, to),
    v: whole.v.subarray(from, to),
    i: whole.i.subarray(from, to),
  });
  checkpoints.add(part(0, 1000));
  checkpoints.add(part(1000, 3000));
  // 1024, 1280, 1536 and 1792 lie in it.
  expect(checkpoints.compare(rowsOf(1000, 2000, v), 0)).toEqual({ matched: 4, missed: 0 });
  expect(
    checkpoints.compare(
      rowsOf(1000, 2000, (t) => v(t) + 0.01),
      0,
    ),
  ).toEqual({ matched: 0, missed: 4 });
  expect(
    checkpoints.compare(
      rowsOf(0, 1000, (t) => v(t + 1000)),
      1000,
    ),
  ).toEqual({ matched: 4, missed: 0 });
  expect(checkpoints.compare(rowsOf(1025, 1100, v), 0)).toEqual({ matched: 0, missed: 0 });
});
