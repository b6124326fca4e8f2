/** Lines as damaged logs have them: a row, no data line, or told in words; never a guess. */
import { expect, it } from 'vitest';
import { createCarefulRow } from '../../../src/log/rows/careful-row.ts';
import { sniffLayout } from '../../../src/log/rows/layout.ts';
import { createRawRows } from '../../../src/log/rows/raw-rows.ts';
import { createTimeCell } from '../../../src/log/time/time-cell.ts';
import { sessionWith } from '../helpers.ts';

const HEAD = [
  'time,v,a,c',
  ...Array.from({ length: 40 }, (_, k) => `2026-03-03T17:40:${String(k).padStart(2, '0')}Z,12.60,-0.03,20.5`),
  '',
].join('\n');

function read(line: string, end = { unfinished: false, torn: false }) {
  const file = { name: 'log.csv', head: Buffer.from(HEAD), headIsAll: true, encoding: 'utf-8' } as const;
  const layout = sniffLayout(sessionWith(), file);
  if (!layout) throw new Error('no layout');
  const { time } = layout;
  const cells = layout.columns.map(({ slot }) =>
    slot.kind === 'time' && time.kind === 'text' ? createTimeCell(time.time, true) : undefined,
  );
  const rows = createRawRows(3);
  const result = createCarefulRow(layout, cells).read(line, rows, end);
  return { ...result, t: rows.t[0], values: rows.values.map((column) => column[0]) };
}
const GOOD = '2026-03-03T17:41:00Z,12.61,-0.04,20.4';

it('a whole line is a row', () => {
  const { kind, t, values, notes } = read(GOOD);
  expect({ kind, notes, values }).toEqual({ kind: 'row', notes: [], values: [12.61, -0.04, 20.4] });
  expect(t).toBe(Date.UTC(2026, 2, 3, 17, 41) / 1000);
});

it.each(['', '   ', '# a comment', '// another', 'time,v,a,c'])('%s is no data line', (line) => {
  expect(read(line)).toMatchObject({ kind: 'ignored', cut: false });
});

it('a reading that is no number is told, and the rest of the row stands', () => {
  expect(read(GOOD.replace('12.61', '12.x1'))).toMatchObject({ kind: 'row', notes: ['v: "12.x1"'] });
  expect(read(GOOD.replace('12.61', '12.x1')).values).toEqual([Number.NaN, -0.04, 20.4]);
});

it('no reading at all, no time, and too few cells are no row', () => {
  expect(read('2026-03-03T17:41:00Z,x,y,z')).toMatchObject({ kind: 'rejected', notes: ['v: "x"'] });
  expect(read(GOOD.replace('T17:41', 'T17:xx')).notes[0]).toContain('no time');
  expect(read('2026-03-03T17:41:00Z,12.61')).toMatchObject({ kind: 'rejected', cut: false });
});

it('an empty cell is a missing reading and no fault', () => {
  expect(read(GOOD.replace('-0.04', ''))).toMatchObject({ kind: 'row', notes: [] });
});

it('a last line without an end is cut where a cell, or a digit of the last, is lacking', () => {
  const unfinished = { unfinished: true, torn: false };
  expect(read(GOOD, unfinished).kind).toBe('row');
  for (const line of [GOOD.slice(0, -1), GOOD.slice(0, -6)])
    expect(read(line, unfinished)).toMatchObject({ kind: 'rejected', cut: true });
  expect(read(GOOD, { unfinished: true, torn: true })).toMatchObject({ kind: 'rejected', cut: true });
});

it('null bytes, as a lost supply leaves them, are counted', () => {
  expect(read(`\0\0\0${GOOD}`)).toMatchObject({ kind: 'row', notes: ['3 null bytes'] });
  expect(read('\0\0\0\0')).toMatchObject({ kind: 'rejected', notes: ['4 null bytes'] });
});
