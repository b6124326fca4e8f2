/**
 * The quick way through plain rows gives what careful reading gives, bit by bit. Numbers are held against `Number()` of
 * ECMA-262 (StringToNumber, correctly rounded to the nearest double).
 */
import fc from 'fast-check';
import { describe, expect, it } from 'vitest';
import type { Layout } from '../../../src/log/rows/layout.ts';
import { createPlainRows } from '../../../src/log/rows/plain-rows.ts';
import { createRowReader } from '../../../src/log/rows/row-reader.ts';
import type { Slot } from '../../../src/log/rows/wanted.ts';
import { createTimeCell, readWithCare } from '../../../src/log/time/time-cell.ts';
import { readIso, readIsoClock, readIsoDate } from '../../../src/log/time/time-text.ts';
import { PLAIN_ROWS } from '../../../src/node/disk-io.ts';

const TIME = '2026-03-03T17:40:12.345';

/** Columns that are not wanted stand between: time, x, volts, x, x, amperes, x. */
function layoutOf(delimiter: string, decimal: '.' | ',', time: Layout['time']): Layout {
  const column = (index: number, slot: Slot) => ({ index, slot, ref: { name: index }, path: `columns.${index}` });
  const reading = (value: number) => ({ kind: 'value', value, unit: 'V', factor: 1, divisor: 1, offset: 0 }) as const;
  const columns = [column(0, { kind: 'time' }), column(2, reading(0)), column(5, reading(1))];
  const signs = { decimal, countDecimal: decimal };
  return { delimiter, ...signs, headerLine: 0, firstLine: 1, cells: 6, columns, time, coarse: false };
}

const ISO: Layout['time'] = { kind: 'text', how: 'ISO 8601', time: readIso };
const SECONDS: Layout['time'] = { kind: 'number', how: 's', scale: 0, startS: 0 };

function rowsOf(layout: Layout, text: string) {
  const rows: number[][] = [];
  const notes: string[] = [];
  const reader = createRowReader({
    plainRows: PLAIN_ROWS,
    layout,
    encoding: 'utf-8',
    values: 3,
    onRows(batch, more) {
      for (let k = 0; k < batch.n; k++)
        rows.push([batch.t[k], batch.values[0][k], batch.values[1][k], batch.line[k], batch.twin[k]]);
      notes.push(...more.map(({ found }) => found));
    },
  });
  reader.push(Buffer.from(text));
  reader.end(false);
  return { rows, notes, ignored: reader.ignored() };
}

const digits = (most: number) => fc.stringMatching(new RegExp(`^[0-9]{0,${most}}$`));
/** Up to more digits than a double holds, with and without sign, point and noughts. */
const plainNumber = fc
  .tuple(fc.constantFrom('', '-', '+'), digits(12), fc.constantFrom('', '.'), digits(12))
  .map(([sign, whole, point, rest]) => sign + whole + point + (point === '' ? '' : rest))
  .filter((text) => /\d/.test(text));
const anything = fc.oneof(
  { weight: 6, arbitrary: plainNumber },
  fc.constantFrom(
    '',
    ' ',
    '-',
    '.',
    'NaN',
    '1e3',
    '-2.5E-3',
    '1.2.3',
    '12V',
    'on',
    '"7.25"',
    '--',
    '0x10',
    '\0',
    '1\u00002',
    '4 2',
  ),
  plainNumber.map((text) => ` ${text} `),
);

describe('plain rows', () => {
  it('hold the double that is nearest to what is written', () =>
    fc.assert(
      fc.property(fc.array(fc.tuple(plainNumber, plainNumber), { minLength: 1, maxLength: 40 }), (cells) => {
        const text = cells.map(([a, b], k) => `${k},x,${a},x,x,${b},x\n`).join('');
        const { rows, notes } = rowsOf(layoutOf(',', '.', SECONDS), text);
        expect(notes).toEqual([]);
        expect(rows).toEqual(cells.map(([a, b], k) => [k, Number(a), Number(b), k + 1, 0]));
      }),
      { numRuns: 500 },
    ));

  it('are read as they are read with care, whatever stands in them', () =>
    fc.assert(
      fc.property(
        fc.constantFrom([',', '.'], [';', ','], ['\t', ','], ['|', '.'], [' ', '.'], [',', ','] as const),
        fc.array(fc.tuple(anything, anything, anything, fc.constantFrom('\n', '\r\n'), fc.nat(9)), { maxLength: 30 }),
        fc.constantFrom(0, 6, 7, 8),
        ([delimiter, decimal], lines, usualCells) => {
          const said = (cell: string) => (decimal === ',' ? cell.replaceAll('.', ',') : cell);
          // A byte order mark before it sends a row the careful way, and says nothing.
          const textOf = (mark: string) =>
            lines
              .map(([x, a, b, end, lacking]) => {
                const cells = [`${mark}${TIME}`, x, said(a), 'x', x, said(b), 'x', 'x'];
                return cells.slice(0, lacking < 3 ? 5 + lacking : 8).join(delimiter) + end;
              })
              .join('');
          const layout = { ...layoutOf(delimiter, decimal as '.' | ',', ISO), cells: usualCells };
          const careful = rowsOf(layout, textOf('\uFEFF'));
          const quick = rowsOf(layout, textOf(''));
          expect(quick.rows).toEqual(careful.rows);
          expect(quick.notes.length).toBe(careful.notes.length);
          expect(quick.ignored).toBe(careful.ignored);
        },
      ),
      { numRuns: 1000 },
    ));

  it('may lack cells behind the wanted ones, if the last of these is closed', () => {
    const text = [',x,x', ',', ',x', ''].map((end) => `${TIME},x,1,x,x,2${end}\n`).join('');
    const { rows, notes } = rowsOf({ ...layoutOf(',', '.', ISO), cells: 8 }, text);
    expect(rows.map(([, , , line]) => line)).toEqual([1, 2, 3]);
    expect(notes).toEqual([expect.stringContaining('6 of 8 cells')]);
  });

  it('are not taken where a delimiter is lost, so that other cells would be read', () => {
    const text = ['1,x', '1;x'].map((cells) => `${TIME},x,${cells},x,2,3,x\n`).join('');
    const { rows, notes } = rowsOf({ ...layoutOf(',', '.', ISO), cells: 8 }, text);
    expect(rows).toHaveLength(1);
    expect(notes).toEqual([expect.stringContaining('7 of 8 cells')]);
  });

  it('may be as wide as they like', () => {
    const many = 'some text,'.repeat(3000);
    const wide = Array.from({ length: 50 }, (_, k) => `${k},${many}x`).join('\n');
    const layout = layoutOf(',', '.', SECONDS);
    const columns = [layout.columns[0], { ...layout.columns[1], index: 3002 }];
    const { rows } = rowsOf({ ...layout, columns, cells: 3003 }, wide.replaceAll(/x$/gm, '12.5,-3'));
    expect(rows.map(([t, v]) => [t, v])).toEqual(Array.from({ length: 50 }, (_, k) => [k, -3]));
  });

  it('are not taken for smaller numbers where the digits are too many', () => {
    // 2^64 + 1 and 2^53 + 1.
    const { rows } = rowsOf(
      layoutOf(',', '.', SECONDS),
      '0,x,18446744073709551617,x,x,1\n1,x,9007199254740993,x,x,1\n',
    );
    expect(rows.map(([, value]) => value)).toEqual([18446744073709552000, 9007199254740992]);
  });

  const commas = layoutOf(';', ',', ISO);
  const spaces = layoutOf(' ', '.', ISO);
  it.each([
    ['with decimal commas', commas, ';12,6;x;x;-0,0213;x', [12.6, -0.0213]],
    ['with signs and spaces', commas, '; 13 ;;;+5;', [13, 5]],
    ['with empty cells', commas, ';00012,345678;x;x;;x', [12.345678, Number.NaN]],
    ['with many digits', commas, ';123456789,1234567;x;x;,5;x', [123456789.1234567, 0.5]],
    ['that end with the last wanted cell', commas, ';-1,;x;x;0', [-1, 0]],
    ['parted by runs of spaces, also over 64 bytes', spaces, `${' '.repeat(80)}12.5 x  x   -3     x  `, [12.5, -3]],
  ])('go the quick way %s', (_, layout, row, expected) => {
    const cell = createTimeCell(readIso, true);
    readWithCare(cell, TIME);
    const plain = createPlainRows(PLAIN_ROWS, layout, [cell, undefined, undefined], 3, 1 << 16);
    const filled = layout === spaces ? ` x${row}` : `;x${row}`;
    const text = [0, 1, 59].map((s) => `${TIME.slice(0, 17)}${String(s).padStart(2, '0')}.5${filled}\r\n`).join('');
    const stops = `${TIME.replace('40', '41')}${filled}\n`;
    plain.bytes.set(Buffer.from(text + stops));
    const place = { next: 0, before: 0, line: 0, lastT: Number.NaN };
    plain.read(place, text.length + stops.length);
    expect(place.next).toBe(text.length);
    for (const k of [0, 1, 2]) expect([plain.rows.values[0][k], plain.rows.values[1][k]]).toEqual(expected);
    plain.release();
  });

  it.each([
    ['before', [0, 1] as const],
    ['behind', [1, 0] as const],
  ])('go the quick way with a date in a column of its own, %s the time of day', (_, [date, clock]) => {
    const time: Layout['time'] = { kind: 'text', how: 'ISO 8601', time: readIsoDate, clock: readIsoClock };
    const layout = layoutOf(',', '.', time);
    const [first, volts] = layout.columns;
    const columns = [{ ...first, index: date }, { ...first, index: clock, slot: { kind: 'clock' } as const }, volts];
    columns.sort((a, b) => a.index - b.index);
    const cells = columns.map(({ slot }) =>
      slot.kind === 'value' ? undefined : createTimeCell(slot.kind === 'time' ? readIsoDate : readIsoClock, false),
    );
    for (const cell of cells) if (cell) readWithCare(cell, cell.read === readIsoDate ? '2026-03-03' : '17:40:00');
    const plain = createPlainRows(PLAIN_ROWS, { ...layout, columns, cells: 3 }, cells, 3, 1 << 16);
    const rowOf = (day: string, of: string) => `${date === 0 ? `${day},${of}` : `${of},${day}`},12.5\n`;
    const rows = ['17:40:12', '17:40:13.25', '17:40:59'].map((of) => rowOf('2026-03-03', of)).join('');
    for (const stops of [rowOf('2026-03-04', '17:40:12'), rowOf('2026-03-031', '17:40:12'), rowOf('', '17:40:12')]) {
      plain.rows.n = 0;
      plain.bytes.set(Buffer.from(rows + stops));
      const place = { next: 0, before: 0, line: 0, lastT: Number.NaN };
      plain.read(place, rows.length + stops.length);
      expect(place.next).toBe(rows.length);
      const minute = Date.UTC(2026, 2, 3, 17, 40) / 1000;
      expect([...plain.rows.t.subarray(0, 3)]).toEqual([minute + 12, minute + 13.25, minute + 59]);
      expect([...plain.rows.values[0].subarray(0, 3)]).toEqual([12.5, 12.5, 12.5]);
    }
    plain.release();
  });
});
