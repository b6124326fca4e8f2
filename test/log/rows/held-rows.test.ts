import { expect, it } from 'vitest';
import type { SampleBlock } from '../../../src/log/block.ts';
import { createHeldRows, type Row } from '../../../src/log/rows/held-rows.ts';

const row = (t: number, v = 12): Row => ({ t, values: [v, 0, 20], line: t, twin: false });

function held() {
  const out: number[] = [];
  const rows = createHeldRows(3, ({ n, t }: SampleBlock) => out.push(...t.subarray(0, n)));
  return { rows, out };
}

it('has no oldest row and no step before there are rows', () => {
  const { rows } = held();
  expect(rows.oldest()).toBeNull();
  expect(rows.step()).toBeNaN();
});

it('puts a late row where a row is missing', () => {
  const { rows, out } = held();
  for (const t of [0, 1, 2, 3, 5, 6, 7, 8, 9, 10, 11]) rows.append(row(t), t);
  expect(rows.insert(row(4), 4)).toBe(true);
  rows.finish();
  expect(out).toEqual([0, 1, 2, 3, 4, 5, 6, 7, 8, 9, 10, 11]);
});

it('has no place for a row where none is missing and the others have gone on', () => {
  const { rows } = held();
  for (let t = 0; t < 12; t++) rows.append(row(t), t);
  expect(rows.insert(row(2.5), 2.5)).toBe(false);
});

it('knows a row that it holds, by time and values', () => {
  const { rows } = held();
  for (let t = 0; t < 4; t++) rows.append(row(t, 12 + t), t);
  expect(rows.includes(row(2, 14), 2)).toBe(true);
  expect(rows.includes(row(2, 13), 2)).toBe(false);
  expect(rows.countBetween(0, 3)).toBe(2);
});

it('lets go of what it held, and counts it no more', () => {
  const { rows, out } = held();
  for (let t = 0; t < 3; t++) rows.append(row(t), t);
  expect(rows.takeBack()).toBe(3);
  rows.finish();
  expect(rows.taken()).toBe(0);
  expect(out).toEqual([]);
});
