import { gzipSync } from 'node:zlib';
import { describe, expect, it } from 'vitest';
import { UserError } from '../../../src/base/problem.ts';
import { readSample } from '../../../src/log/sample/sample.ts';
import { diskOf } from './disk-of.ts';

const sample = (text: string | Uint8Array) =>
  readSample('/log.csv', 'log.csv', diskOf(typeof text === 'string' ? Buffer.from(text) : text));

const rows = (n: number, row: (k: number) => string) => Array.from({ length: n }, (_, k) => `${row(k)}\n`).join('');
const clock = (k: number) => new Date(Date.UTC(2026, 2, 3, 12) + k * 250).toISOString();
const PLAIN = `time,battery_v,battery_a\n${rows(100, (k) => `${clock(k)},12.61,-0.040`)}`;

describe('layout', () => {
  it('finds step and bytes of a row', async () => {
    const found = await sample(PLAIN);
    expect(found.stepS).toBe(0.25);
    expect(found.rowBytes).toBe(`${clock(0)},12.61,-0.040\n`.length);
    expect(found.rows).toBe(100);
  });

  it('counts CRLF and the two bytes of UTF-16, and unpacks', async () => {
    const crlf = await sample(PLAIN.replaceAll('\n', '\r\n'));
    expect(crlf.rowBytes).toBe(`${clock(0)},12.61,-0.040\r\n`.length);
    const wide = await sample(Buffer.concat([Buffer.from([0xff, 0xfe]), Buffer.from(PLAIN, 'utf16le')]));
    expect(wide.rowBytes).toBe(2 * `${clock(0)},12.61,-0.040\n`.length);
    expect((await sample(gzipSync(PLAIN))).rowBytes).toBe((await sample(PLAIN)).rowBytes);
  });

  it('takes the mean where the clock is coarser than the rows', async () => {
    const found = await sample(
      `time,bat [V]\n${rows(101, (k) => `${clock(4 * Math.floor(k / 10)).slice(0, 19)}Z,12.6`)}`,
    );
    expect(found.stepS).toBeCloseTo(0.1, 2);
  });

  it.each([
    ['nothing', ''],
    ['a header alone', 'time,battery_v\n'],
    ['prose', 'no rows\nat all\n'],
    ['Parquet', 'PAR1 and so on'],
    ['noise', Buffer.from(Array.from({ length: 4096 }, (_, k) => (k * 7919) % 251)).toString('latin1')],
  ])('refuses %s with its name', async (_what, text) => {
    await expect(sample(text)).rejects.toThrow(UserError);
    await expect(sample(text)).rejects.toThrow('log.csv');
  });
});

describe('columns', () => {
  const of = async (header: string, row: (k: number) => string) => sample(`${header}\n${rows(60, row)}`);

  it('tells battery from circuit by its name and its readings', async () => {
    const found = await of('time,lamp_v,batt_v,drop [V]', (k) => `${clock(k)},12.4,12.6,0.02`);
    expect(found.voltage).toMatchObject({ name: 'batt_v', unit: 'V' });
    expect(found.channels.map(({ name }) => name)).toEqual(['lamp_v', 'drop [V]']);
    expect(found.systemV?.value).toBe(12);
  });

  it.each([
    ['V', '25.2', 24],
    ['V', '6.2', 6],
    ['mV', '12600', 12],
  ])('a voltage in %s near %s is a %i V system', async (unit, reading, system) => {
    const found = await of(`time,bat [${unit}]`, (k) => `${clock(k)},${reading}`);
    expect(found.systemV?.value).toBe(system);
    expect(found.voltage?.unit).toBe(unit);
  });

  it('does not guess the unit of a current', async () => {
    const found = await of('time,bat_v,current', (k) => `${clock(k)},12.6,40`);
    expect(found.current).toMatchObject({ name: 'current', unit: null });
  });

  it.each([
    ['charging', -1],
    ['discharging', 1],
  ])('reads %s from cranks', async (positive, sign) => {
    const found = await of(
      'time,bat_v,bat_a',
      (k) => `${clock(k)},${k < 5 ? 10.1 : 12.6},${sign * (k < 5 ? 310 : 0.04)}`,
    );
    expect(found.positive?.value).toBe(positive);
  });

  it('says nothing of the sign where rows speak both ways', async () => {
    const found = await of('time,bat_v,bat_a', (k) => `${clock(k)},${k < 10 ? 10.1 : 12.6},${k % 2 ? 310 : -310}`);
    expect(found.positive).toBeNull();
  });

  it('numbers the columns of a log without a header, and of names that stand twice', async () => {
    const bare = await sample(rows(20, (k) => `${clock(k)},12.6,-0.04`));
    expect(bare.columns).toEqual([1, 2, 3]);
    expect(bare.time?.name).toBe(1);
    expect(bare.voltage).toMatchObject({ name: 2, unit: 'V' });
    expect(bare.current).toBeNull();
    const twice = await of('time,bat_v,bat_v', (k) => `${clock(k)},12.6,12.5`);
    expect(twice.columns).toEqual(['time', 2, 3]);
  });
});

describe('names that anyone knows', () => {
  it.each<[string, string | null]>([
    ['time,Volts,Amps', 'A'],
    ['time,voltage,current', null],
    ['time,battery_voltage,battery_current', null],
    ['Zeit,Spannung,Strom', null],
    ['timeStamp,batteryVoltage,batteryCurrent', null],
    ['timeStamp,battVolts,battMa', 'mA'],
    ['t,U_Bat,I_Bat', null],
    ['t,U,I', null],
    ['time,UBat,IBat [mA]', 'mA'],
  ])('%s', async (header, unit) => {
    const found = await sample(`${header}\n${rows(40, (k) => `${clock(k)},12.6,${k % 2 ? 40 : 41}`)}`);
    const [, voltage, current] = header.split(',');
    expect(found.voltage).toMatchObject({ name: voltage, unit: 'V' });
    expect(found.current).toMatchObject({ name: current, unit });
  });

  it.each([
    ['one name too few', 'time,U,I'],
    ['one name too many', 'time,U,I,T,remarks'],
  ])('%s', async (_, header) => {
    const found = await sample(`${header}\n${rows(40, (k) => `${clock(k)},12.6,0.04,19`)}`);
    expect(found.time?.name).toBe('time');
    expect(found.voltage?.name).toBe('U');
    expect(found.current?.name).toBe('I');
  });
});

describe('times', () => {
  it('asks where day and month cannot be told apart', async () => {
    const found = await sample(`when,bat_v\n${rows(20, (k) => `03/04/2026 10:00:${10 + k},12.6`)}`);
    expect(found.time).toMatchObject({ name: 'when', how: null });
    expect(found.stepS).toBeNull();
  });

  it.each([
    ['seconds since 1970', (k: number) => `${1_772_000_000 + k}`, false, 1],
    ['milliseconds since 1970', (k: number) => `${1_772_000_000_000 + 500 * k}`, false, 0.5],
    ['a count from the start', (k: number) => `${k / 5}`, true, 0.2],
  ])('reads %s', async (_what, write, elapsed, stepS) => {
    const found = await sample(`time,bat_v\n${rows(30, (k) => `${write(k)},12.6`)}`);
    expect(found.time?.elapsed).toBe(elapsed);
    expect(found.stepS).toBeCloseTo(stepS, 9);
  });
});
