import { describe, expect, it } from 'vitest';
import { namesIn, placeColumns, type Slot, wantedColumns } from '../../../src/log/rows/wanted.ts';
import { sessionWith } from '../helpers.ts';

const WANTED = wantedColumns(sessionWith());
const place = (cells: readonly string[], wanted = WANTED) => placeColumns(wanted, { cells, file: 'log.csv', line: 1 });

describe('into SI', () => {
  const si = (reading: number, { slot }: { readonly slot: Slot }) =>
    slot.kind === 'value' ? (reading * slot.factor) / slot.divisor + slot.offset : Number.NaN;
  const temperature = (unit: '°C' | '°F' | 'K') =>
    wantedColumns(sessionWith({ columns: { temperature: { name: 'c', unit } } }))[3];

  it('32 °F and 212 °F are 0 and 100 °C, 273.15 K is 0 °C (SI Brochure, 9th ed., 2.3.1)', () => {
    expect(si(32, temperature('°F'))).toBeCloseTo(0, 12);
    expect(si(212, temperature('°F'))).toBeCloseTo(100, 12);
    expect(si(273.15, temperature('K'))).toBe(0);
    expect(si(20, temperature('°C'))).toBe(20);
  });

  it('mV and mA are thousandths, and a current that counts discharge positive is turned', () => {
    const [, volts, amps] = wantedColumns(
      sessionWith({
        columns: { voltage: { name: 'v', unit: 'mV' }, current: { name: 'a', unit: 'mA', positive: 'discharging' } },
      }),
    );
    expect(si(12_600, volts)).toBe(12.6);
    expect(si(61, amps)).toBe(-0.061);
  });
});

describe('places', () => {
  it('are in the order of the file, whatever spaces and spellings of letters the names have', () => {
    expect(place(['c ', ' a', 'x', 'v', '\uFEFFtime']).map(({ index }) => index)).toEqual([0, 1, 3, 4]);
    expect(namesIn(['c ', ' a', 'x', 'v'], WANTED)).toBe(3);
  });

  it.each<[string, readonly string[], RegExp]>([
    ['a name that is not there', ['time', 'volt', 'a', 'c'], /no column "v" in the log: log\.csv has the columns/],
    ['a name that stands twice', ['time', 'v', 'a', 'c', 'v'], /Two columns of the log are called "v"/],
    ['none at all', ['x', 'y'], /None of the columns of the manifest is in this log/],
    ['no text', ['\u0001\u0002', 'y'], /This file is no text/],
  ])('%s is told', (_, cells, message) => {
    expect(() => place(cells)).toThrow(message);
  });

  it('one column is not taken twice', () => {
    const twice = wantedColumns(sessionWith({ columns: { temperature: { name: 'v', unit: '°C' } } }));
    expect(() => place(['time', 'v', 'a'], twice)).toThrow(/already taken for log\.columns\.voltage/);
  });

  it('a unit in the name that is not the manifest’s is told', () => {
    const named = wantedColumns(
      sessionWith({ columns: { current: { name: 'I [mA]', unit: 'A', positive: 'charging' } } }),
    );
    expect(() => place(['time', 'v', 'I [mA]', 'c'], named)).toThrow(/The manifest says A, and the log says mA/);
  });
});
