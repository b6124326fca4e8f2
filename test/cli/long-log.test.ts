/** Logs with a row for each value: what the wide form of the same vehicle says, they say too. */
import { readFile } from 'node:fs/promises';
import { join } from 'node:path';
import { afterAll, beforeAll, describe, expect, it } from 'vitest';
import { isoLocal, standstill, VAN_MANIFEST, type VanFiles, vanFiles, vanRows } from './van.ts';

let files: VanFiles;
beforeAll(async () => {
  files = await vanFiles();
});
afterAll(() => files.remove());

const ROWS = vanRows(1.5);
const WIDE = `time,U,I\n${ROWS.map(({ s, volts, amps }) => `${isoLocal(s)},${volts.toFixed(2)},${amps.toFixed(3)}`).join('\n')}\n`;

/** Rows only where a value has changed. */
function changes(
  of: (row: (typeof ROWS)[number]) => string,
  write: (time: string, value: string) => string,
): [number, string][] {
  let before = '';
  return ROWS.flatMap((row): [number, string][] => {
    const value = of(row);
    if (value === before) return [];
    before = value;
    return [[row.s, write(isoLocal(row.s), value)]];
  });
}
const volts = (write: (time: string, value: string) => string) => changes((row) => row.volts.toFixed(2), write);
const amps = (write: (time: string, value: string) => string) => changes((row) => row.amps.toFixed(3), write);
const together = (...all: [number, string][][]) =>
  `${all
    .flat()
    .sort((a, b) => a[0] - b[0])
    .map(([, line]) => line)
    .join('\n')}\n`;

const long = (columns: string, more = '  hold: 1 h\n') =>
  VAN_MANIFEST.replace(/ {2}columns:[\s\S]*/, `${more}  columns:\n${columns}`);

const NAMED = `    time: {name: time}
    voltage: {where: {name: Control module voltage}, value: value, unit: V, accuracy: 10 mV}
    current: {where: {name: Battery current}, value: value, unit: A, positive: charging, accuracy: 5 mA}
`;
const SEMICOLONS = `time;name;value;unit\n${together(
  volts((time, value) => `${time};Control module voltage;${value.replace('.', ',')};V`),
  amps((time, value) => `${time};Battery current;${value.replace('.', ',')};A`),
  changes(
    ({ s }) => String(12 + Math.round(s / 40_000)),
    (time, value) => `${time};Basement;${value},5;°C`,
  ),
)}`;

async function reportOf(name: string, content: Readonly<Record<string, string>>) {
  const folder = await files.add(name, content);
  const out = join(files.root, `out-${name}`);
  const { code, err } = await standstill('build', folder, '--no-pdf', '--out', out);
  expect(err).toBe('');
  expect(code).toBe(0);
  return JSON.parse(await readFile(join(out, 'sessions', 'small-van', 'report.json'), 'utf8'));
}

describe('a row for each value', () => {
  it('says the same as the log in columns: in one file, or in one for each quantity with states that are none', async () => {
    const wide = await reportOf('wide', { 'session.yaml': VAN_MANIFEST, 'log.csv': WIDE });
    const one = await reportOf('long', { 'session.yaml': long(NAMED), 'log.csv': SEMICOLONS });
    const states = `    time: {name: last_changed}
    voltage: {where: {entity_id: sensor.u}, value: state, unit: V, accuracy: 10 mV}
    current: {where: {entity_id: sensor.i}, value: state, unit: A, positive: charging, accuracy: 5 mA}
`;
    const many = await reportOf('states', {
      'session.yaml': long(states),
      'a.csv': `entity_id,state,last_changed\n${together(amps((time, value) => `sensor.i,${value},${time}Z`))}`,
      'b.csv': `entity_id,state,last_changed\nsensor.u,unavailable,2026-03-03T17:39:00Z\n${together(volts((time, value) => `sensor.u,${value},${time}Z`))}`,
    });
    // Between values that are held samples are put in: more of them than rows, and no row without use.
    expect([one.log.rows_rejected, many.log.rows_rejected]).toEqual([0, 0]);
    for (const report of [one, many]) {
      const draw = (of: typeof wide) => of.parked.map((stand: { mean_draw_a: number }) => stand.mean_draw_a);
      for (const [k, value] of draw(wide).entries())
        expect(Math.abs(draw(report)[k] - value)).toBeLessThan(0.05 * Math.abs(value) + 0.001);
      expect(report.drives.length).toBe(wide.drives.length);
      expect(report.log.missing_s).toBeLessThan(60);
      expect(report.log.faults).toEqual([]);
    }
    expect(many.log.files.map((file: { rows: number }) => file.rows > 0)).toEqual([true, true]);
  });

  it('holds a value no longer than is said', async () => {
    // Nothing for two hours of sleep.
    const [from, to] = [isoLocal(20_000), isoLocal(27_200)];
    const quiet = SEMICOLONS.split('\n').filter((line) => line < from || line > to || !/^\d/.test(line));
    const missing = async (hold: string) => {
      const manifest = long(NAMED, `  hold: ${hold}\n`);
      const folder = await files.add(`hold-${hold.replace(' ', '')}`, {
        'session.yaml': manifest,
        'log.csv': quiet.join('\n'),
      });
      const { out } = await standstill('check', folder, '--json');
      return JSON.parse(out).log.missing_s;
    };
    expect(await missing('3 h')).toBe(0);
    // What stands still before a hole may be counted to it.
    const lost = await missing('10 min');
    expect(lost).toBeGreaterThan(7200 - 630);
    expect(lost).toBeLessThan(7200 + 30);
  });

  it('names what the log has where a quantity never comes, and the unit that its rows state', async () => {
    const typo = await files.add('typo', {
      'session.yaml': long(NAMED.replace('Control module voltage', 'Control modul voltage')),
      'log.csv': SEMICOLONS,
    });
    const { err } = await standstill('check', typo);
    expect(err).toContain(
      'log.columns.voltage.where: No row of the log is of "Control modul voltage". Did you mean "Control module voltage"?',
    );
    expect(err).toContain('"Basement"');
    const unit = await files.add('unit', {
      'session.yaml': long(NAMED.replace('unit: V', 'unit: mV')),
      'log.csv': SEMICOLONS,
    });
    expect((await standstill('check', unit)).err).toContain(
      'log.columns.voltage.unit: The manifest says mV, and log.csv says V in the rows of "Control module voltage"',
    );
  });

  it('needs to be told how long a value stands, and all columns in one form', async () => {
    const folder = await files.add('no-hold', {
      'session.yaml': long(NAMED.replace('where: {name: Battery current}, value: value', 'name: I'), ''),
      'log.csv': SEMICOLONS,
    });
    const { err } = await standstill('check', folder);
    expect(err).toContain('log.hold: Missing.');
    expect(err).toContain('Either all columns are found by name, or all by where and value.');
  });

  it('is no log in columns: a column that mixes several quantities is named', async () => {
    const wide = VAN_MANIFEST.replace('name: U', 'name: value').replace(/ {4}current.*\n/, '');
    const folder = await files.add('mixed', { 'session.yaml': wide, 'log.csv': SEMICOLONS });
    const { code, err } = await standstill('check', folder);
    expect(code).toBe(1);
    expect(err).toMatch(
      /log\.columns\.voltage\.name: "value" holds several quantities.*"name".*"Control module voltage" \(near 12\.6.*where: \{name: Control module voltage\}, value: value/,
    );
  });

  it('is recognised by init, and accepted by check once its blanks are filled', async () => {
    const folder = join(files.root, 'from-init');
    await files.add('sample', { 's.csv': SEMICOLONS });
    const words = [
      '--title',
      'Flat',
      '--purpose',
      'complaint',
      '--timezone',
      'Europe/Dublin',
      '--description',
      'Van',
      '--powertrain',
      'combustion',
      '--chemistry',
      'flooded',
      '--system-voltage',
      '12',
    ];
    const { code } = await standstill(
      'init',
      folder,
      '--from',
      join(files.root, 'sample', 's.csv'),
      '--yes',
      '--no-pdf',
      '--positive',
      'charging',
      ...words,
    );
    expect(code).toBe(0);
    const text = await readFile(join(folder, 'session.yaml'), 'utf8');
    expect(text).toMatch(/voltage:\n {6}where: \{ ?name: Control module voltage ?\}\n {6}value: value\n {6}unit: V/);
    expect(text).toMatch(/hold: +# FILL IN/);
    await files.add('from-init', { 'session.yaml': text.replace(/hold: .*/, 'hold: 1 h') });
    expect(await standstill('check', folder)).toMatchObject({ code: 0, err: '' });
  });
});
