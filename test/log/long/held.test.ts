import { expect, it } from 'vitest';
import { createHolder } from '../../../src/log/long/held.ts';

function rowsFrom(feed: (push: (t: number, value: number, reading: number) => void) => void) {
  const out: number[][] = [];
  const holder = createHolder(3, 60, 10, ({ n, t, values }) => {
    for (let row = 0; row < n; row++) out.push([t[row], ...values.map((column) => column[row])]);
  });
  feed((t, value, reading) => holder.push(t, value, reading, 1));
  holder.finish();
  return out;
}

it('makes one row of values of one moment, and lets each stand until the next of its kind', () => {
  const rows = rowsFrom((push) => {
    push(0, 0, 12.6);
    push(0, 1, -0.5);
    push(4, 1, -2);
  });
  expect(rows).toEqual([
    [0, 12.6, -0.5, Number.NaN],
    [4, 12.6, -2, Number.NaN],
  ]);
});

it('puts rows in between, so that what is held is no hole, and none where it is held no longer', () => {
  const rows = rowsFrom((push) => {
    push(0, 0, 12.6);
    push(200, 0, 12.5);
  });
  expect(rows.map(([t]) => t)).toEqual([0, 10, 20, 30, 40, 50, 60, 200]);
});

it('a value that says that there is none ends what was held', () => {
  const rows = rowsFrom((push) => {
    push(0, 0, 12.6);
    push(0, 1, -0.5);
    push(5, 1, Number.NaN);
  });
  expect(rows.at(-1)).toEqual([5, 12.6, Number.NaN, Number.NaN]);
});
