/** Heads of logs that others than battery loggers write: nothing is proposed that the file does not show, and why is said. */
import { expect, it } from 'vitest';
import { readSample } from '../../../src/log/sample/sample.ts';
import { draftManifest } from '../../../src/manifest/draft.ts';
import { diskOf } from './disk-of.ts';

const sample = (text: string) => readSample('/log.csv', 'log.csv', diskOf(Buffer.from(text)));
const rows = (n: number, row: (k: number) => string) => Array.from({ length: n }, (_, k) => `${row(k)}\n`).join('');
const day = (k: number) => new Date(Date.UTC(2026, 2, 3, 12) + k * 1000).toISOString().slice(0, 19);
const names = (found: Awaited<ReturnType<typeof sample>>) =>
  [found.time, found.voltage, found.current, found.temperature].map((column) => column?.name ?? null);

it('what is at present is no electric current', async () => {
  const head = 'when,PercentLoadAtCurrentSpeed,Current Gear,Spark Advance Current,SupplyVolt,time_stamp_no,sample_no';
  const found = await sample(`${head}\n${rows(60, (k) => `${day(k)},${k % 40},3,${k % 9},12.6,7,${k}`)}`);
  expect(names(found)).toEqual(['when', 'SupplyVolt', null, null]);
});

it.each(['loadCurrent', 'Current battery', 'clamp_amps', 'Ladestrom', 'BatCurrent', 'current_1'])(
  '%s is one',
  async (name) => {
    const found = await sample(`when,bat_volt,${name}\n${rows(60, (k) => `${day(k)},12.6,${-0.1 * (k % 7)}`)}`);
    expect(found.current?.name).toBe(name);
  },
);

it('a counter that stands still is no clock: the one that tells the rows apart is, and without one it is asked for', async () => {
  const line = (k: number) => `${Math.floor(k / 120) + 8260},${(k * 0.25).toFixed(2)},12.6`;
  const found = await sample(`MINUTES_SINCE_RESET_TIME,RUN_TIME,SUPPLY_VOLT\n${rows(360, line)}`);
  expect(found.time).toMatchObject({ name: 'RUN_TIME', elapsed: true });
  expect(found.stepS).toBe(0.25);
  const without = (k: number) => `${Math.floor(k / 120) + 8260},12.6`;
  const alone = await sample(`MINUTES_SINCE_RESET_TIME,SUPPLY_VOLT\n${rows(360, without)}`);
  expect(alone.time).toBeNull();
  expect(alone.open.time).toBe('"MINUTES_SINCE_RESET_TIME" rises, but stands still for 25 rows and more');
  const draft = draftManifest({ id: { reason: '' }, values: {} as never, log: { ...alone, files: ['log.csv'] } });
  expect(draft).toContain('FILL IN: the column of the time, as the header row names it; "MINUTES_SINCE_RESET_TIME"');
});

it('a second of ten rows is a clock all the same', async () => {
  const found = await sample(`time_s,bat_volt\n${rows(300, (k) => `${Math.floor(k / 10)},12.6`)}`);
  expect(found.time?.name).toBe('time_s');
  expect(found.stepS).toBeCloseTo(0.1, 2);
});

it('a unit in each cell is read, and says what the column is', async () => {
  const found = await sample(`utc,plus,draw\n${rows(40, (k) => `${day(k)}Z,13.${k % 9}V,${k % 9}mA`)}`);
  expect(found.voltage).toMatchObject({ name: 'plus', unit: 'V', reason: expect.stringContaining('its cells give V') });
  expect(found.current).toMatchObject({ name: 'draw', unit: 'mA' });
});

it('a row of units below the names says what a column is, and what it is not', async () => {
  const head = 'Time;Fan current;Pump current;Main\ns;%;A;V';
  const found = await sample(`${head}\n${rows(40, (k) => `${k * 0.5};${k % 9};${k % 5};12.${k % 9}`)}`);
  expect(names(found)).toEqual(['Time', 'Main', 'Pump current', null]);
  expect(found.voltage?.reason).toContain('the row of units gives V');
});

it('rows are found below hundreds of lines that tell of the columns', async () => {
  const preamble = rows(230, (k) => `Channel : number ${k}\nID : ${k}\nLimits : ${k * 10},-${k}`);
  const found = await sample(
    `${preamble}${rows(90, (k) => `10:00:${String(k % 60).padStart(2, '0')}.000,3,127,2.5,9,8`)}`,
  );
  expect(found.columns).toEqual([1, 2, 3, 4, 5, 6]);
  expect(found.time).toBeNull();
  expect(found.open.time).toBe('column 1 holds times of day, such as "10:00:00.000", and no column the date');
});

it('of a log with a row for each value it is said where the voltage is to be named', async () => {
  const line = (k: number) => {
    const what = ['"Engine speed";"800";"rpm"', '"Road speed";"0";"km/h"', '"Coolant temperature";"88";"°C"'][k % 3];
    return `"${k * 0.2}";${what}`;
  };
  const found = await sample(`"SECONDS";"WHAT";"READING";"UNIT"\n${rows(300, line)}`);
  expect(found.voltage).toBeNull();
  expect(found.open.voltage).toContain('"WHAT" says what "READING" holds, such as "Engine speed"');
  expect(found.open.voltage).toContain('value: READING');
});
