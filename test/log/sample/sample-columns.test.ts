/** What the columns of an unknown log are likely to be: proposed with a reason, or left to the person. */
import { describe, expect, it } from 'vitest';
import { proposeColumns, type SampleColumn } from '../../../src/log/sample/sample-columns.ts';

const column = (name: string | number, ...values: readonly number[]): SampleColumn => ({
  name,
  values: Float64Array.from(values),
  cells: values.map(String),
});
const VOLTS = [12.6, 12.5, 10.2, 14.3, 14.2, 14.3];
const AMPS = [-0.03, -8, -180, 12, 10, 9];

describe('roles', () => {
  it('by the unit in the name, by a word, and by what only a battery reads', () => {
    const { voltage, current, temperature } = proposeColumns([
      column('U_Batt', ...VOLTS),
      column('I [A]', ...AMPS),
      column('Temp', 20, 21, 20, 19, 20, 20),
    ]);
    expect(voltage).toMatchObject({ name: 'U_Batt', unit: 'V' });
    expect(current).toMatchObject({ name: 'I [A]', unit: 'A' });
    // 20 may be °C or, in the north, °F: nobody guesses.
    expect(temperature).toMatchObject({ name: 'Temp', unit: null });
  });

  it('millivolts are known by their size', () => {
    expect(proposeColumns([column('battery voltage', ...VOLTS.map((v) => 1000 * v))]).voltage?.unit).toBe('mV');
  });

  it('the battery’s voltage comes before others, which are circuits', () => {
    const { voltage, channels } = proposeColumns([
      column('voltage 1', ...VOLTS),
      column('battery voltage', ...VOLTS),
      column('voltage 2', 12, 12, 0, 12, 12, 12),
    ]);
    expect(voltage?.name).toBe('battery voltage');
    expect(channels.map(({ name }) => name)).toEqual(['voltage 1', 'voltage 2']);
  });

  it('two that are as likely, and none that is, are left open', () => {
    const { voltage, open } = proposeColumns([column('voltage 1', ...VOLTS), column('voltage 2', ...VOLTS)]);
    expect(voltage).toBeNull();
    expect(open.voltage).toMatch(/as likely as each other: "voltage 1", "voltage 2"/);
    expect(open.current).toBe('no column looks like it');
  });

  it('a column without a name may be the voltage, and nothing else', () => {
    const { voltage, current } = proposeColumns([column(2, ...VOLTS), column(3, ...AMPS)]);
    expect([voltage?.name, current]).toEqual([2, null]);
  });
});

describe('the current’s sign', () => {
  const positive = (amps: readonly number[]) =>
    proposeColumns([column('U_Batt', ...VOLTS), column('I [A]', ...amps)]).positive?.value ?? null;
  it('is told by loads that pull the voltage down and by what flows at a charging voltage', () => {
    expect(positive(AMPS)).toBe('charging');
    expect(positive(AMPS.map((a) => -a))).toBe('discharging');
  });
  it('is not told by a current that goes both ways, or none', () => {
    expect(positive([-0.03, -8, -180, 12, -10, 9])).toBeNull();
    expect(positive([0, 0, 0, 0, 0, 0])).toBeNull();
  });
});

it.each([
  [1, 12],
  [2, 24],
  [0.5, 6],
])('a voltage near %d × 12.6 V is of a %d V system', (scale, system) => {
  expect(proposeColumns([column('U_Batt', ...VOLTS.map((v) => scale * v))]).systemV?.value).toBe(system);
});
