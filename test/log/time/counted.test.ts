import { expect, it } from 'vitest';
import { createRawRows } from '../../../src/log/rows/raw-rows.ts';
import type { RowNote } from '../../../src/log/rows/row-reader.ts';
import { createCountTimes } from '../../../src/log/time/counted.ts';

const rejected = (row: number): RowNote => ({ kind: 'unreadable-row', row, line: 0, found: '', rejected: true });

it('counts rows from the start, and a row that cannot be read keeps its place', () => {
  const count = createCountTimes(1000, 0.5);
  const rows = createRawRows(3);
  rows.n = 3;
  rows.twin.set([0, 1, 1]);
  count(rows, [rejected(1)]);
  expect([...rows.t.subarray(0, 3)]).toEqual([1000, 1001, 1001.5]);
  expect([...rows.twin.subarray(0, 3)]).toEqual([0, 0, 0]);
  // Lost behind the last row of the batch, and the next file goes on.
  count(rows, [rejected(3), rejected(3)]);
  expect([...rows.t.subarray(0, 3)]).toEqual([1002, 1002.5, 1003]);
  count(rows, []);
  expect(rows.t[0]).toBe(1004.5);
});
