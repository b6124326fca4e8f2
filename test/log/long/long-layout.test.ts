/** A row for each value: where it stands, and which rows are of what. */
import { expect, it } from 'vitest';
import { isLong, longLayout, matches, readingOf } from '../../../src/log/long/long-layout.ts';
import { sessionWith } from '../helpers.ts';

const of = (name: string) => ({ where: { what: name }, value: 'value' });
const SESSION = sessionWith({
  columns: {
    voltage: { name: 'battery', unit: 'V', ...of('battery') },
    current: { name: 'shunt', unit: 'A', positive: 'charging', ...of('shunt') },
    temperature: undefined,
  },
});
const layoutOf = (text: string, session = SESSION) =>
  longLayout(session, { name: 'log.csv', head: Buffer.from(text), headIsAll: true, encoding: 'utf-8' });
const FILE = [
  'exported 2026-03-03',
  'time;what;value;unit',
  ...Array.from(
    { length: 20 },
    (_, k) =>
      `2026-03-03T17:40:${10 + k}Z;${k % 2 ? 'shunt' : 'battery'};${k % 2 ? '-0,03' : '12,6'};${k % 2 ? 'A' : 'V'}`,
  ),
  '',
].join('\n');

it('is found below what stands before it, with its delimiter and decimal sign', () => {
  const layout = layoutOf(FILE);
  expect(layout).toMatchObject({ delimiter: ';', decimal: ',', headerLine: 2, timeAt: 0, clockAt: -1, zoned: true });
  expect(layout?.quantities.map(({ valueAt, where }) => [valueAt, where])).toEqual([
    [2, [{ at: 1, is: 'battery' }]],
    [2, [{ at: 1, is: 'shunt' }]],
  ]);
  expect(isLong(SESSION)).toBe(true);
  expect(isLong(sessionWith())).toBe(false);
});

it('each row is of what its cells say', () => {
  const [volts, amps] = layoutOf(FILE)?.quantities ?? [];
  const row = ['2026-03-03T17:40:10Z', ' shunt ', '-0,03', 'A'];
  expect([matches(volts, row), matches(amps, row)]).toEqual([false, true]);
});

it('a column that is not there, and a unit that the rows contradict, are told', () => {
  expect(() => layoutOf(FILE.replace('what', 'wat'))).toThrow(/no column "what" in the log.*Did you mean "wat"/);
  expect(() => layoutOf(FILE.replaceAll(';A', ';mA'))).toThrow(/says A, and log\.csv says mA in the rows of "shunt"/);
});

it('a header alone has no rows', () => {
  expect(layoutOf('time;what;value\n')).toBeUndefined();
});

it.each([
  ['12,6', 12.6],
  ['unavailable', Number.NaN],
  [undefined, Number.NaN],
])('%s is %d', (cell, value) => {
  expect(readingOf(cell, ',', 'V')).toBe(value);
});
