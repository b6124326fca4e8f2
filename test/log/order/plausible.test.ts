import { expect, it } from 'vitest';
import { isDate, type Range, ranges, takeOut, takeOutNoDates } from '../../../src/log/order/plausible.ts';
import { createRawRows } from '../../../src/log/rows/raw-rows.ts';
import type { PlacedColumn } from '../../../src/log/rows/wanted.ts';
import { sessionWith } from '../helpers.ts';

const columns = [0, 1, 2].map(
  (value) => ({ slot: { kind: 'value', value }, ref: { name: `c${value}` } }) as unknown as PlacedColumn,
);

it('a voltage may be three and a half times the system; a current goes half as far again as its sensor', () => {
  const at24V = ranges(sessionWith({ systemV: 24 }), columns);
  expect(at24V.map(({ unit, low, high }) => [unit, low, high])).toEqual([
    ['V', -1, 84],
    ['A', -5000, 5000],
    ['°C', -60, 150],
  ]);
  const current = { name: 'a', unit: 'A', positive: 'charging', rangeA: 100 } as const;
  expect(ranges(sessionWith({ columns: { current } }), columns)[1]).toMatchObject({ low: -150, high: 150 });
});

it('puts no reading in place of one out of range, and tells its row', () => {
  const rows = createRawRows(3);
  rows.n = 3;
  rows.values[0].set([12, 43, -2]);
  const told: [number, number][] = [];
  const range: Range = { value: 0, name: 'v', unit: 'V', low: -1, high: 42 };
  takeOut(rows, range, (row, value) => told.push([row, value]));
  expect([...rows.values[0].subarray(0, 3)]).toEqual([12, Number.NaN, Number.NaN]);
  expect(told).toEqual([
    [1, 43],
    [2, -2],
  ]);
});

it('takes out rows whose time is no date, and moves the notes of those that stay', () => {
  const rows = createRawRows(3);
  rows.n = 3;
  const t = Date.UTC(2026, 2, 3) / 1000;
  rows.t.set([t, 1e12, t + 1]);
  rows.line.set([2, 3, 4]);
  const notes = takeOutNoDates(rows, [{ kind: 'unreadable-row', row: 2, line: 4, found: 'x', rejected: false }]);
  expect([...rows.t.subarray(0, rows.n)]).toEqual([t, t + 1]);
  expect(notes.map(({ row, line, rejected }) => [row, line, rejected])).toEqual([
    [1, 3, true],
    [1, 4, false],
  ]);
});

it('lets clocks that were never set pass, and no time after 2099', () => {
  expect(isDate(0)).toBe(true);
  expect(isDate(Date.UTC(1900, 0, 1) / 1000)).toBe(true);
  expect(isDate(Date.UTC(2100, 0, 1) / 1000)).toBe(false);
  expect(isDate(Number.NaN)).toBe(false);
});
