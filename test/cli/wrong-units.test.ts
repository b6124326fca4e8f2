/** A wrong unit in the manifest must become a message, never a diagnosis. */
import { afterAll, beforeAll, describe, expect, it } from 'vitest';
import { isoLocal, standstill, VAN_MANIFEST, type VanFiles, vanFiles, vanRows } from './van.ts';

let files: VanFiles;
let made = 0;
beforeAll(async () => {
  files = await vanFiles();
});
afterAll(() => files.remove());

interface Slip {
  readonly names?: readonly [string, string];
  readonly units?: string;
  readonly timesV?: number;
  readonly timesA?: number;
  readonly manifest?: (text: string) => string;
}

async function checked({ names = ['U', 'I'], units, timesV = 1, timesA = 1, manifest = (text) => text }: Slip) {
  const rows = vanRows().map(({ s, volts, amps }) => `${isoLocal(s)},${volts * timesV},${amps * timesA}`);
  const head = [`time,${names.join(',')}`, ...(units ? [units] : [])];
  const text = VAN_MANIFEST.replace('name: U,', `name: "${names[0]}",`).replace('name: I,', `name: "${names[1]}",`);
  const folder = await files.add(`van-${made++}`, {
    'session.yaml': manifest(text),
    'log.csv': `${[...head, ...rows].join('\n')}\n`,
  });
  return standstill('check', folder);
}

const inMilli = (text: string) => text.replace('unit: A', 'unit: mA');
const voltsAsMilli = (text: string) => text.replace('unit: V', 'unit: mV');

describe('a unit that the log contradicts', () => {
  it('is no fault where all is well', async () => {
    expect(await checked({})).toMatchObject({ code: 0, err: '' });
    expect(await checked({ names: ['U [V]', 'IBat (A)'] })).toMatchObject({ code: 0, err: '' });
  });

  it.each<[string, Slip, RegExp]>([
    ['in brackets', { names: ['U', 'IBat [mA]'], timesA: 1000 }, /current\.unit: .*says A, and the log says mA/],
    [
      'at the end of the name',
      { names: ['batt_v', 'I'], manifest: voltsAsMilli },
      /voltage\.unit: .*says mV, and the log says V/,
    ],
    ['in a row of units', { units: ',V,mA', timesA: 1000 }, /current\.unit: .*log says mA: "mA" in line 2 of log\.csv/],
    ['of another quantity', { names: ['U', 'Temp [°C]'] }, /current\.unit: .*says A, and the log says °C/],
  ])('by its name: %s', async (_, slip, message) => {
    const { code, err } = await checked(slip);
    expect(err).toMatch(message);
    expect(code).toBe(1);
  });

  it('is told of voltage and current under each other’s name', async () => {
    const exchanged = (text: string) =>
      text.replace('name: "U"', 'name: "X"').replace('name: "I"', 'name: "U"').replace('name: "X"', 'name: "I"');
    const { code, err } = await checked({ manifest: exchanged });
    expect(err).toMatch(/log\.columns\.voltage: Voltage and current seem to be exchanged: "U", given as the current/);
    expect(code).toBe(1);
  });

  it.each([
    ['%PDF-1.7\n1 0 obj\n', /This is a PDF under another name/],
    ['<html><body><table><tr><td>time</td></tr></table>\n', /web page or XML under another name/],
  ])('nor is %j taken for a log', async (text, message) => {
    const folder = await files.add(`van-${made++}`, { 'session.yaml': VAN_MANIFEST, 'log.csv': text });
    const { code, err } = await standstill('check', folder);
    expect(err).toMatch(message);
    expect(code).toBe(1);
  });

  it('is taken where the column is named by its number, since the name may be wrong', async () => {
    const byNumber = (text: string) =>
      text.replace(/name: ("U"|time|"I)/g, (_, name) => `name: ${{ time: 1, '"U"': 2 }[name as string] ?? '"I'}`);
    expect(
      (await checked({ names: ['U', 'I (mA)'], manifest: (text) => byNumber(text).replace('"I (mA)"', '3') })).code,
    ).toBe(0);
  });
});

describe('readings that the system cannot have', () => {
  it.each<[string, Slip, RegExp]>([
    [
      'a 12 V log said to be of 24 V',
      { manifest: (text) => text.replace('system_voltage: 12 V', 'system_voltage: 24 V') },
      /vehicle\.system_voltage: The manifest says 24 V, .* that of a 12 V system/,
    ],
    ['a 24 V log said to be of 12 V', { timesV: 2 }, /24 V system|out of what can be/],
    [
      '12.6 V read as mV',
      { manifest: voltsAsMilli },
      /voltage\.unit: "U": the voltage is never above 0\.0143 V.* Read as V, the highest would be 14\.3 V/,
    ],
    [
      '12600 mV read as V',
      { timesV: 1000 },
      /voltage\.unit: All readings of "U" are out of .* near 12620 V.* Read as mV/,
    ],
    ['22 mA read as A', { timesA: 1000 }, /current\.unit: "I": the vehicle would have drawn .* Read as mA/],
    [
      '210 A read as mA',
      { manifest: inMilli },
      /current\.unit: "I": an engine ran, .* 210 mA\. Read as A, it would be 210 A/,
    ],
  ])('%s', async (_, slip, message) => {
    const { code, err } = await checked(slip);
    expect(err).toMatch(message);
    expect(code).toBe(1);
  });

  it('a right unit stays one: a load that empties the battery and pulls its voltage down with it', async () => {
    // 8 A for 10 h from 70 Ah, down to 10.9 V.
    const rows = vanRows(1).map(
      ({ s }) => `${isoLocal(s)},${12.6 - 1.7 * Math.min(1, s / 36_000)},${s < 36_000 ? -8 : -0.02}`,
    );
    const folder = await files.add('drained', {
      'session.yaml': VAN_MANIFEST,
      'log.csv': `time,U,I\n${rows.join('\n')}\n`,
    });
    expect(await standstill('check', folder)).toMatchObject({ code: 0, err: '' });
  });
});
