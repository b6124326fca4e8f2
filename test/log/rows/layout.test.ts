/** What is found out of a file by itself, and what is asked instead of guessed. */
import { describe, expect, it } from 'vitest';
import { decimalPlaces, leastCells, sniffLayout } from '../../../src/log/rows/layout.ts';
import type { Session } from '../../../src/manifest/session.ts';
import { sessionWith } from '../helpers.ts';

const layoutOf = (text: string, session: Session = sessionWith(), like?: Parameters<typeof sniffLayout>[2]) =>
  sniffLayout(session, { name: 'log.csv', head: Buffer.from(text), headIsAll: true, encoding: 'utf-8' }, like);
const ROW = (k: number, part = ',', sign = '.') =>
  [`2026-03-03T17:40:${String(k % 60).padStart(2, '0')}`, `12${sign}6${k % 10}`, `-0${sign}03`, `20${sign}5`].join(
    part,
  );
const rows = (n: number, part?: string, sign?: string) => Array.from({ length: n }, (_, k) => ROW(k, part, sign));
const file = (lines: readonly string[], header = 'time,v,a,c') => [header, ...lines, ''].join('\n');

describe('delimiter and decimal sign', () => {
  it.each([
    [',', '.'],
    [';', ','],
    ['\t', ','],
    ['|', '.'],
  ])('%s and %s', (part, sign) => {
    const layout = layoutOf(file(rows(30, part, sign), ['time', 'v', 'a', 'c'].join(part)));
    expect(layout).toMatchObject({ delimiter: part, decimal: sign, cells: 4, headerLine: 1, firstLine: 2 });
  });

  it('are asked for where a comma may be either', () => {
    const lines = rows(30, ';').map((line) => line.replace(/;12\.\d\d;-0\.03;20\.5/, ';12,600;1,234;20'));
    expect(() => layoutOf(file(lines, 'time;v;a;c'))).toThrow(/could be two things: say decimal/);
  });
});

describe('the header', () => {
  it('stands below a preamble, and units below it are no row', () => {
    const text = `Logger 7\nserial;0815\n\n${file([';V;A;°C', ...rows(30, ';', ',')], 'time;v;a;c')}`;
    expect(layoutOf(text)).toMatchObject({ headerLine: 4, firstLine: 6 });
  });

  it('may give columns in any order, and more than are wanted', () => {
    const lines = rows(30).map((line, k) => `${k},${line.split(',').reverse().join(',')}`);
    const layout = layoutOf(file(lines, 'row,c,a,v,time'));
    expect(layout?.columns.map(({ slot, index }) => [slot.kind === 'value' ? slot.value : slot.kind, index])).toEqual([
      [2, 1],
      [1, 2],
      [0, 3],
      ['time', 4],
    ]);
  });

  it('is that of another file where this one goes on without', () => {
    const like = { file: 'first.csv', cells: ['time', 'v', 'a', 'c'] };
    expect(layoutOf(rows(30).join('\n'), sessionWith(), like)).toMatchObject({
      headerLine: 0,
      headerFile: 'first.csv',
      firstLine: 1,
    });
  });

  it('is refused where a name is not there, with the nearest', () => {
    expect(() => layoutOf(file(rows(30), 'time,vv,a,c'))).toThrow(/no column "v".*Did you mean "vv"/);
  });

  it('whose unit row contradicts the manifest is refused', () => {
    expect(() => layoutOf(file([',mV,A,°C', ...rows(30)]))).toThrow(/manifest says V, and the log says mV/);
  });
});

it('nothing, blank lines and a header alone are no rows', () => {
  for (const text of ['', '\n\n  \n', 'time,v,a,c\n']) expect(layoutOf(text)).toBeUndefined();
});

it('columns by number need no header', () => {
  const numbered = sessionWith({
    columns: {
      time: { name: 1 },
      voltage: { name: 2, unit: 'V' },
      current: { name: 3, unit: 'A', positive: 'charging' },
      temperature: { name: 4, unit: '°C' },
    },
  });
  expect(layoutOf(rows(30, ';', ',').join('\n'), numbered)).toMatchObject({
    delimiter: ';',
    headerLine: 0,
    firstLine: 1,
  });
});

it('several quantities in one column are refused, with what to say instead', () => {
  const mixed = Array.from({ length: 90 }, (_, k) =>
    [
      `2026-03-03T17:40:${String(k % 60).padStart(2, '0')}`,
      ['bat', 'coolant', 'rpm'][k % 3],
      [12.6, 84, 2100][k % 3],
    ].join(','),
  );
  const session = sessionWith({
    columns: { voltage: { name: 'value', unit: 'V' }, current: undefined, temperature: undefined },
  });
  expect(() => layoutOf(file(mixed, 'time,what,value'), session)).toThrow(
    /holds several quantities.*where: \{what: bat\}/,
  );
});

it('rows of one length and one count of decimal places show what a cut is', () => {
  const layout = layoutOf(file(rows(60)));
  expect(layout).toMatchObject({ cells: 4, lastPlaces: 1 });
  const more = layoutOf(
    file(
      rows(60).map((line) => `${line},x,y,z`),
      'time,v,a,c,d,e,f',
    ),
  );
  expect([more?.cells, more && leastCells(more)]).toEqual([7, 5]);
  const uneven = layoutOf(file(rows(60).map((line, k) => (k % 2 ? `${line},x` : line))));
  expect(uneven?.cells).toBe(0);
});

it('a clock coarser than the rows is known by stamps that come again', () => {
  expect(layoutOf(file(rows(60)))?.coarse).toBe(false);
  expect(layoutOf(file(rows(60).flatMap((line) => [line, line, line])))?.coarse).toBe(true);
});

it.each([
  ['12.60', 2],
  ['12,6 ', 1],
  ['12', 0],
  ['1.234,567', 3],
])('%s has %d decimal places', (cell, places) => {
  expect(decimalPlaces(cell)).toBe(places);
});
