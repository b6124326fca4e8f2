import { expect, it } from 'vitest';
import { reversed, runsBackwards } from '../../../src/log/files/newest-first.ts';
import { createRawRows, type RawRows } from '../../../src/log/rows/raw-rows.ts';

const falling = Array.from({ length: 20 }, (_, k) => 100 - k);

it('tells a log that runs backwards from one that jumps once, and says nothing of a few rows', () => {
  expect(runsBackwards(falling)).toBe(true);
  expect(runsBackwards(falling.toReversed())).toBe(false);
  expect(runsBackwards(falling.slice(0, 9))).toBe(false);
  expect(runsBackwards([...falling.toReversed(), ...falling.toReversed()])).toBe(false);
});

function batch(times: readonly number[]): RawRows {
  const rows = createRawRows(3);
  rows.n = times.length;
  rows.t.set(times);
  rows.values[0].set(times.map((t) => t / 10));
  rows.line.set(times.map((_, k) => k + 2));
  return rows;
}

it('hands on the last row first, over all batches', () => {
  const got: [number, number][] = [];
  const turned = reversed(({ n, t, values }) => {
    for (let row = 0; row < n; row++) got.push([t[row], values[0][row]]);
  });
  const reused = batch([9, 8, 7]);
  turned.onRows(reused, []);
  // The arrays are used again: what was handed in must have been copied.
  reused.n = 2;
  reused.t.set([6, 5]);
  reused.values[0].set([0.6, 0.5]);
  turned.onRows(reused, []);
  expect(got).toEqual([]);
  turned.finish();
  expect(got).toEqual([
    [5, 0.5],
    [6, 0.6],
    [7, 0.7],
    [8, 0.8],
    [9, 0.9],
  ]);
});
