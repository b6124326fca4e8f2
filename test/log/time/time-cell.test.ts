import { expect, it } from 'vitest';
import { createTimeCell, readWithCare } from '../../../src/log/time/time-cell.ts';
import { readIso, readIsoDate } from '../../../src/log/time/time-text.ts';

const latin = (bytes: Uint8Array) => Buffer.from(bytes).toString('latin1');
const T = Date.UTC(2026, 2, 3, 17, 40) / 1000;

it('remembers what stands before and after the seconds, and the minute that it means', () => {
  const cell = createTimeCell(readIso, false);
  expect(readWithCare(cell, '2026-03-03T17:40:12.250Z')?.seconds).toBe(T + 12.25);
  expect([latin(cell.prefix), latin(cell.tail), cell.minute, cell.whole]).toEqual(['2026-03-03T17:40:', 'Z', T, false]);
});

it('a date alone is compared as a whole', () => {
  const cell = createTimeCell(readIsoDate, false);
  readWithCare(cell, '2026-03-03');
  expect([latin(cell.prefix), cell.whole, cell.minute]).toEqual(['2026-03-03', true, Date.UTC(2026, 2, 3) / 1000]);
});

it('a fraction behind a comma has no quick way where commas part cells', () => {
  const quick = (commas: boolean) => {
    const cell = createTimeCell(readIso, commas);
    readWithCare(cell, '2026-03-03T17:40:12,250');
    return cell.prefix.length > 0;
  };
  expect([quick(true), quick(false)]).toEqual([true, false]);
});

it('times that name their offset and times that do not are never one column', () => {
  const cell = createTimeCell(readIso, false);
  readWithCare(cell, '2026-03-03T17:40:12Z');
  expect(readWithCare(cell, '2026-03-03T17:40:13')).toBeUndefined();
  expect(readWithCare(cell, 'no time')).toBeUndefined();
  expect(readWithCare(cell, '2026-03-03T18:40:14+01:00')?.seconds).toBe(T + 14);
});
