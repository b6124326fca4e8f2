/** What must not change the samples: how the bytes arrive, how the rows are shared out, how the text is written. */
import { gzipSync } from 'node:zlib';
import fc from 'fast-check';
import { describe, expect, it } from 'vitest';
import { csv, line, type Reading, read, type Sample, START, sessionWith } from './helpers.ts';

const RUNS = { numRuns: 60 };

/** Rows with uneven steps, missing readings, and gaps. */
const rowsArbitrary = fc
  .array(
    fc.record({
      stepMs: fc.oneof(fc.integer({ min: 1, max: 300 }), fc.integer({ min: 1, max: 90_000 })),
      mv: fc.integer({ min: 6000, max: 18_000 }),
      tenthMa: fc.integer({ min: -4_000_000, max: 4_000_000 }),
      tenthC: fc.option(fc.integer({ min: -590, max: 1490 }), { nil: undefined }),
    }),
    { minLength: 30, maxLength: 120 },
  )
  .map((steps) => {
    let ms = START * 1000;
    return steps.map(({ stepMs, mv, tenthMa, tenthC }): Sample => {
      ms += stepMs;
      return { t: ms / 1000, v: mv / 1000, a: tenthMa / 10_000, c: tenthC === undefined ? Number.NaN : tenthC / 10 };
    });
  });

function columnsOf({ account: _, ...columns }: Reading) {
  return columns;
}

function expectSame(reading: Reading, rows: readonly Sample[]): void {
  expect(columnsOf(reading)).toEqual({
    t: rows.map(({ t }) => t),
    v: rows.map(({ v }) => v),
    i: rows.map(({ a }) => a),
    temp: rows.map(({ c }) => c),
    ch: [],
  });
  expect(reading.account.rowsRejected).toBe(0);
  expect(reading.account.faults.filter(({ kind }) => kind !== 'gap')).toEqual([]);
}

describe('the same samples', () => {
  it('however the bytes are cut', () =>
    fc.assert(
      fc.asyncProperty(rowsArbitrary, fc.integer({ min: 1, max: 97 }), fc.boolean(), async (rows, chunk, packed) => {
        const bytes = packed ? gzipSync(csv(rows)) : Buffer.from(csv(rows));
        expectSame(await read(bytes, sessionWith(), chunk), rows);
      }),
      RUNS,
    ));

  it('however they are shared out over files, and whatever the files are called', () =>
    fc.assert(
      fc.asyncProperty(
        rowsArbitrary,
        fc.array(fc.integer({ min: 1, max: 119 }), { maxLength: 4 }),
        fc.infiniteStream(fc.nat()),
        async (rows, cuts, keys) => {
          const at = [0, ...[...new Set(cuts.filter((cut) => cut < rows.length))].sort((a, b) => a - b), rows.length];
          const parts = at.slice(1).map((end, k) => csv(rows.slice(at[k], end)));
          const files = Object.fromEntries(parts.map((part, k) => [`${keys.next().value}-${k}.csv`, part]));
          const whole = await read(csv(rows));
          const shared = await read(files);
          expectSame(shared, rows);
          expect(shared.account.faults).toEqual(whole.account.faults);
        },
      ),
      RUNS,
    ));

  it('however the text is written', () =>
    fc.assert(
      fc.asyncProperty(
        rowsArbitrary,
        fc.record({
          comma: fc.boolean(),
          eol: fc.constantFrom('\n', '\r\n', '\r'),
          bom: fc.boolean(),
          wide: fc.boolean(),
          quotes: fc.boolean(),
          delimiter: fc.constantFrom(';', '\t', '|'),
          stamp: fc.constantFrom('iso', 'epoch-s', 'epoch-ms', 'pattern'),
        }),
        async (rows, form) => {
          const time = (t: number) => {
            const text = new Date(Math.round(t * 1000)).toISOString();
            if (form.stamp === 'iso') return text;
            if (form.stamp === 'epoch-ms') return String(Math.round(t * 1000));
            if (form.stamp === 'epoch-s') return t.toFixed(3).replace('.', form.comma ? ',' : '.');
            return `${text.slice(8, 10)}.${text.slice(5, 7)}.${text.slice(0, 4)} ${text.slice(11, 23)}`;
          };
          const cell = (value: string) => {
            const shown = value === 'NaN' ? '' : form.comma ? value.replace('.', ',') : value;
            return form.quotes ? `"${shown}"` : shown;
          };
          const lines = rows.map(({ t, v, a, c }) =>
            [time(t), cell(v.toFixed(3)), cell(a.toFixed(4)), cell(c.toFixed(1))].join(form.delimiter),
          );
          const text = [['time', 'v', 'a', 'c'].join(form.delimiter), ...lines, ''].join(form.eol);
          const bytes = Buffer.from(form.bom || form.wide ? `\uFEFF${text}` : text, form.wide ? 'utf16le' : 'utf8');
          const format =
            form.stamp === 'pattern'
              ? { pattern: 'DD.MM.YYYY HH:mm:ss.SSS' }
              : (form.stamp as 'iso' | 'epoch-s' | 'epoch-ms');
          expectSame(await read(bytes, sessionWith({ columns: { time: { name: 'time', format } } })), rows);
        },
      ),
      RUNS,
    ));

  it('also with one column by itself', () =>
    fc.assert(
      fc.asyncProperty(rowsArbitrary, async (rows) => {
        const text = `v,time\n${rows.map((row) => `${row.v.toFixed(3)},${line(row).split(',')[0]}\n`).join('')}`;
        const reading = await read(text, sessionWith({ columns: { current: undefined, temperature: undefined } }));
        expect(reading.v).toEqual(rows.map(({ v }) => v));
        expect(reading.t).toEqual(rows.map(({ t }) => t));
      }),
      RUNS,
    ));
});
