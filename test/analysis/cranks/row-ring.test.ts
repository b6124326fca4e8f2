import { expect, test } from 'vitest';
import { createRowRing } from '../../../src/analysis/cranks/row-ring.ts';

const column = (n: number, of: (k: number) => number) => Float64Array.from({ length: n }, (_, k) => of(k));

test('gives rows from a time on, in order, and always the last two', () => {
  const ring = createRowRing();
  for (let t = 0; t < 10; t++) ring.add(t, 12 + t, -t, 20);
  expect(ring.since(7).map(([t]) => t)).toEqual([7, 8, 9]);
  expect(ring.since(100).map(([t, v, i, temp]) => [t, v, i, temp])).toEqual([
    [8, 20, -8, 20],
    [9, 21, -9, 20],
  ]);
});

test('keeps the last rows of a block larger than itself, and goes round', () => {
  const n = 10_000;
  const block = {
    n,
    t: column(n, (k) => k),
    v: column(n, () => 12),
    i: column(n, (k) => -k),
    temp: column(n, () => 0),
    ch: [],
  };
  const ring = createRowRing();
  ring.add(-1, 0, 0, 0);
  ring.keep(block, 0, n);
  const rows = ring.since(Number.NEGATIVE_INFINITY);
  expect(rows.length).toBe(4096);
  expect(rows.map(([t]) => t)).toEqual(Array.from({ length: 4096 }, (_, k) => n - 4096 + k));
  expect(rows.every(([t, , i]) => i === -t)).toBe(true);
});

test('tells the least draw of the last moment; a row without a current counts as none', () => {
  const ring = createRowRing();
  expect(ring.leastA(1)).toBe(0);
  for (const [t, i] of [
    [0, -1],
    [1, -30],
    [2, -20],
  ] as const)
    ring.add(t, 12, i, 0);
  expect(ring.leastA(1)).toBe(20);
  expect(ring.leastA(5)).toBe(1);
  ring.add(3, 12, Number.NaN, 0);
  expect(ring.leastA(1)).toBe(0);
});
