import { mkdir, mkdtemp, readdir, readFile, rm, writeFile } from 'node:fs/promises';
import { tmpdir } from 'node:os';
import { join } from 'node:path';
import { Command } from 'commander';
import { afterAll, beforeAll, describe, expect, it } from 'vitest';
import { nodeFiles } from '../../src/base/disk/node-files.ts';
import { UserError } from '../../src/base/problem.ts';
import { type InitOptions, init } from '../../src/cli/init.ts';
import { givenFields, withInitOptions } from '../../src/cli/init-options.ts';
import { askFields } from '../../src/cli/init-questions.ts';
import type { LazyPrinter } from '../../src/cli/lazy-printer.ts';
import { run } from '../../src/cli/run.ts';
import { readSample } from '../../src/log/sample/sample.ts';
import { DRAFT_FIELDS, pathOf } from '../../src/manifest/draft-fields.ts';
import { readSession } from '../../src/manifest/read-session.ts';
import { loadContent } from '../../src/node/content.ts';
import { diskIo } from '../../src/node/disk-io.ts';
import { recordingTerminal } from './terminal.ts';

const ENGLISH = loadContent('en');
const NOW_MS = Date.UTC(2026, 2, 3, 16, 30);
const WORLD = { timezone: 'Europe/Dublin', nowMs: NOW_MS, printer: null };
const FILLED = {
  'session.title': 'Flat: "after" a #weekend',
  'session.purpose': 'complaint',
  'vehicle.description': '2017 panel van, 2.0 diesel',
  'vehicle.powertrain': 'combustion',
  'vehicle.odometer': '84210 km',
  'battery.chemistry': 'flooded',
} as const;

let root: string;
let folders = 0;
beforeAll(async () => {
  root = await mkdtemp(join(tmpdir(), 'standstill-init-'));
});
afterAll(() => rm(root, { recursive: true }));

const fresh = () => join(root, `session-${++folders}`);

function options(more: Partial<InitOptions> = {}): InitOptions {
  return { sampleOnly: false, yes: true, given: {}, page: 'a4', ...more };
}

async function sample(
  name: string,
  rows: readonly string[],
  header = 'time,battery_v,battery_a,temp_c,in2_v\n',
): Promise<string> {
  const path = join(root, name);
  await writeFile(path, header + rows.map((row) => `${row}\n`).join(''));
  return path;
}

const PARKED = Array.from({ length: 40 }, (_, k) => `2026-03-03T17:40:${String(10 + k)}Z,12.61,-0.040,14.5,12.1`);

async function manifestOf(folder: string): Promise<string> {
  return readFile(join(folder, 'session.yaml'), 'utf8');
}

it('the sheet is dated by the clock that was handed in', async () => {
  const dates: number[] = [];
  const printer: LazyPrinter = {
    refused: null,
    lacks: new Set(),
    print: async (_name, _html, _page, dateMs) => {
      dates.push(dateMs);
      return Buffer.from('%PDF');
    },
    close: async () => {},
  };
  await init(fresh(), options(), recordingTerminal(), { ...WORLD, printer });
  expect(dates).toEqual([NOW_MS]);
});

function faultsOf(folder: string): string[] {
  try {
    readSession(folder, nodeFiles);
    return [];
  } catch (error) {
    if (!(error instanceof UserError)) throw error;
    return error.problems.map((problem) => problem.path ?? problem.message);
  }
}

describe('init --from --yes', () => {
  it('asks nothing, and every fault that is left is a marked blank', async () => {
    const folder = fresh();
    const terminal = recordingTerminal(['never asked']);
    expect(await init(folder, options({ from: await sample('a.csv', PARKED) }), terminal, WORLD)).toBe(0);
    expect(terminal.asked).toEqual([]);
    const blanks = (await manifestOf(folder)).split('\n').filter((line) => line.includes('# FILL IN:'));
    const faults = faultsOf(folder);
    expect(faults.map((path) => path.split('.').at(-1))).toEqual(blanks.map((line) => line.trim().split(':')[0]));
    expect(faults).toContain('log.columns.current.positive');
  });

  it('is taken by check once its blanks are filled', async () => {
    const folder = fresh();
    const words = recordingTerminal();
    await init(folder, options({ from: await sample('b.csv', PARKED), given: FILLED }), words, WORLD);
    const filled = (await manifestOf(folder)).replace(/positive: +# FILL IN:.*/, 'positive: charging');
    await writeFile(join(folder, 'session.yaml'), filled);
    expect(faultsOf(folder)).toEqual([]);
    const session = readSession(folder, nodeFiles);
    expect(session.title).toBe(FILLED['session.title']);
    expect(session.timezone).toBe('Europe/Dublin');
    expect(session.vehicle).toMatchObject({ systemV: 12, odometerKm: 84_210 });
    expect(session.log.columns).toMatchObject({
      time: { name: 'time' },
      voltage: { name: 'battery_v', unit: 'V' },
      current: { name: 'battery_a', unit: 'A', positive: 'charging' },
      temperature: { name: 'temp_c', unit: '°C' },
    });
    expect(session.log.channels).toMatchObject([{ name: 'in2_v', unit: 'V' }]);
    const terminal = recordingTerminal();
    expect(await run(['check', folder], terminal)).toBe(0);
    expect(terminal.said.out).toContain('battery_v');
  });

  it('proposes the sign only where the sample shows it', async () => {
    const folder = fresh();
    const cranks = PARKED.map((row, k) => (k > 20 && k < 26 ? row.replace('12.61,-0.040', '10.2,-310.5') : row));
    await init(folder, options({ from: await sample('c.csv', cranks) }), recordingTerminal(), WORLD);
    expect(await manifestOf(folder)).toMatch(/positive: charging +# 5 of 5 rows/);
  });

  it('leaves open which of two like columns is the battery', async () => {
    const folder = fresh();
    const rows = PARKED.map((row) => `${row.split(',')[0]},12.61,12.60`);
    const from = await sample('d.csv', rows, 'time,left [V],right [V]\n');
    await init(folder, options({ from }), recordingTerminal(), WORLD);
    expect(await manifestOf(folder)).toMatch(/name: +# FILL IN: .*"left \[V\]", "right \[V\]"/);
    expect(faultsOf(folder)).toContain('log.columns.voltage.name');
  });

  it('asks how dates are written where that is not certain', async () => {
    const folder = fresh();
    const rows = PARKED.map((row, k) => `03/04/2026 10:00:${String(10 + k)},${row.split(',').slice(1).join(',')}`);
    await init(folder, options({ from: await sample('e.csv', rows) }), recordingTerminal(), WORLD);
    expect(await manifestOf(folder)).toMatch(/day first or month first/);
    expect(await manifestOf(folder)).toMatch(/format: +# FILL IN:/);
  });

  it('needs a start for times that count from 0', async () => {
    const folder = fresh();
    const rows = PARKED.map((row, k) => `${k},${row.split(',').slice(1).join(',')}`);
    await init(
      folder,
      options({ from: await sample('f.csv', rows, 'elapsed,batt (mV),amps,t,x\n') }),
      recordingTerminal(),
      WORLD,
    );
    expect(await manifestOf(folder)).toMatch(/format: elapsed-s/);
    expect(await manifestOf(folder)).toMatch(/start: +# FILL IN/);
  });

  it('reads semicolons, decimal commas, a preamble and two time columns', async () => {
    const folder = fresh();
    const rows = PARKED.map((_, k) => `13.03.2026;10:00:${String(10 + k)};12610,5;-40,2`);
    const from = await sample('g.txt', rows, 'Logger 7\nSerial;4711\nDatum;Uhrzeit;U Batt [mV];Strom [mA]\n');
    await init(folder, options({ from, given: FILLED }), recordingTerminal(), WORLD);
    const filled = (await manifestOf(folder)).replace(/positive: +# FILL IN:.*/, 'positive: charging');
    await writeFile(join(folder, 'session.yaml'), filled);
    expect(readSession(folder, nodeFiles).log.columns).toMatchObject({
      time: { name: 'Datum', clock: 'Uhrzeit' },
      voltage: { name: 'U Batt [mV]', unit: 'mV' },
      current: { name: 'Strom [mA]', unit: 'mA' },
    });
    expect(await run(['check', folder], recordingTerminal())).toBe(0);
  });

  it('a log in the folder stays where it is; a sample of another session is not copied', async () => {
    const folder = fresh();
    await mkdir(join(folder, 'data'), { recursive: true });
    await writeFile(join(folder, 'data', 'day1.csv'), `time,battery_v,battery_a,temp_c,in2_v\n${PARKED.join('\n')}\n`);
    await init(folder, options({ from: join(folder, 'data', 'day1.csv') }), recordingTerminal(), WORLD);
    expect(await manifestOf(folder)).toContain('files: ["data/*.csv"]');
    expect(await readdir(join(folder, 'log'))).toEqual([]);
    const other = fresh();
    await init(other, options({ from: await sample('h.csv', PARKED), sampleOnly: true }), recordingTerminal(), WORLD);
    expect(await readdir(join(other, 'log'))).toEqual([]);
  });
});

describe('init', () => {
  it('never writes over a manifest', async () => {
    const folder = fresh();
    await mkdir(folder);
    await writeFile(join(folder, 'session.yaml'), 'mine');
    await expect(init(folder, options(), recordingTerminal(), WORLD)).rejects.toThrow('is there already');
    expect(await manifestOf(folder)).toBe('mine');
    expect(await readdir(folder)).toEqual(['session.yaml']);
  });

  it('asks nothing where standard input is no terminal, and says so', async () => {
    const terminal = recordingTerminal();
    expect(await init(fresh(), options({ yes: false }), terminal, WORLD)).toBe(0);
    expect(terminal.said.err).toContain('no terminal');
  });

  it('asks what is not known, again where the answer is not taken, and takes Enter for a proposal', async () => {
    const folder = fresh();
    const asked = DRAFT_FIELDS.filter(
      (field) => field.question && field.section !== 'current' && !(pathOf(field) in FILLED),
    ).filter(({ key }) => !['registration', 'repair_order', 'technician'].includes(key));
    const answers = [
      ...asked.flatMap((field) =>
        field.key === 'system_voltage' ? ['48 V', '12 V'] : field.key === 'capacity' ? ['70 Ah'] : [''],
      ),
      // The first of those that may be left to the sheet.
      '',
    ];
    const terminal = recordingTerminal(answers);
    expect(await init(folder, options({ yes: false, given: FILLED }), terminal, WORLD)).toBe(0);
    expect(terminal.asked).toHaveLength(answers.length);
    expect(terminal.asked.find((question) => question.startsWith('Time zone'))).toContain('[Europe/Dublin]');
    expect(terminal.said.err).toContain('Found "48 V"');
    const text = await manifestOf(folder);
    expect(text).toContain('timezone: Europe/Dublin');
    expect(text).toContain('capacity: 70 Ah');
    expect(text).toContain('system_voltage: 12 V');
  });

  describe('asks last for what the sheet has a box for', () => {
    const others = DRAFT_FIELDS.filter(
      ({ key }) => !['registration', 'repair_order', 'technician', 'odometer'].includes(key),
    ).map((field) => [pathOf(field), { value: 'x' }]);
    const LINE = 'The rest may be left to the fitting sheet: Enter skips all of it.';

    it('in the order in which it comes to hand, again where an answer is not taken', async () => {
      const terminal = recordingTerminal(['171-D-00000', 'HL-20431', 'D. Okafor', 'far', '84210']);
      const known = await askFields(Object.fromEntries(others), undefined, ENGLISH, terminal);
      expect(terminal.asked.map((question) => question.split(' (')[0])).toEqual([
        'Registration',
        'Repair order',
        'Technician',
        'Odometer',
        'Odometer',
      ]);
      expect(terminal.said.err).toContain(LINE);
      expect(known).toMatchObject({
        'vehicle.registration': { value: '171-D-00000' },
        'session.repair_order': { value: 'HL-20431' },
        'session.technician': { value: 'D. Okafor' },
        'vehicle.odometer': { value: '84210 km' },
      });
    });

    it('and Enter skips the rest, but keeps what was answered', async () => {
      const terminal = recordingTerminal(['171-D-00000', '']);
      const known = await askFields(Object.fromEntries(others), undefined, ENGLISH, terminal);
      expect(terminal.asked).toHaveLength(2);
      expect(known?.['vehicle.registration']).toEqual({ value: '171-D-00000' });
      expect(known).not.toHaveProperty('session.repair_order');
    });

    it('and says nothing of it where all of it is given', async () => {
      const all = DRAFT_FIELDS.map((field) => [pathOf(field), { value: 'x' }]);
      const terminal = recordingTerminal([]);
      expect(await askFields(Object.fromEntries(all), undefined, ENGLISH, terminal)).not.toBeNull();
      expect(terminal.said.err).not.toContain(LINE);
    });

    it('and each of them has its box on the sheet', async () => {
      const folder = fresh();
      await init(folder, options({ yes: true }), recordingTerminal(), WORLD);
      const sheet = await readFile(join(folder, 'fitting-sheet.html'), 'utf8');
      const content = loadContent('en');
      for (const key of ['registration', 'repair_order', 'technician', 'odometer'])
        expect(sheet).toContain(`<dt>${content.label(`facts.${key}`)}</dt>`);
    });
  });

  it('asks which way a current counts where the sample does not show it', async () => {
    const folder = fresh();
    const flags = DRAFT_FIELDS.filter((field) => field.section !== 'current').map((field) => [
      pathOf(field),
      { value: 'x' },
    ]);
    const terminal = recordingTerminal(['up', 'out']);
    const from = await sample('i.csv', [...PARKED, '2026-03-03T17:41:00Z,12.4,-3.1,14.5,12.1']);
    const known = await askFields(Object.fromEntries(flags), await readSample(from, from, diskIo), ENGLISH, terminal);
    expect(terminal.said.err).toContain('"battery_a" reads -0.04 A where the voltage is highest (12.61 V), and -3.1 A');
    expect(terminal.said.err).toContain('charging or discharging');
    expect(known?.['current.positive']).toEqual({ value: 'discharging' });
    await init(
      folder,
      options({ from, given: { ...FILLED, 'current.positive': 'discharging' } }),
      recordingTerminal(),
      WORLD,
    );
    expect(readSession(folder, nodeFiles).log.columns.current?.positive).toBe('discharging');
  });

  it('writes nothing when the input ends', async () => {
    const folder = fresh();
    const terminal = recordingTerminal(['A title']);
    expect(await init(folder, options({ yes: false }), terminal, WORLD)).toBe(1);
    await expect(readdir(folder)).rejects.toThrow();
  });

  it('refuses a flag that the manifest would not take', async () => {
    const folder = fresh();
    const terminal = recordingTerminal();
    expect(
      await run(['init', folder, '--yes', '--no-pdf', '--capacity', '70 V', '--timezone', 'Europe/Dubln'], terminal),
    ).toBe(2);
    expect(terminal.said.err).toContain('--capacity: Found a voltage (V)');
    expect(terminal.said.err).toContain('Europe/Dublin');
    await expect(readdir(folder)).rejects.toThrow();
  });

  it('refuses a sign of current where there is none', async () => {
    const from = await sample(
      'no-current.csv',
      PARKED.map((row) => row.split(',').slice(0, 2).join(',')),
      'time,battery_v\n',
    );
    for (const words of [['--from', from], []]) {
      const terminal = recordingTerminal();
      expect(await run(['init', fresh(), '--yes', '--no-pdf', '--positive', 'charging', ...words], terminal)).toBe(2);
      expect(terminal.said.err).toContain('--positive: ');
    }
  });

  it('takes what people say, shows what was found, goes back, and speaks German', async () => {
    const folder = fresh();
    const from = await sample(
      'de.csv',
      PARKED.map((row) => row.split(',').slice(0, 4).join(';')),
      'Zeit;Spannung;Strom;Temperatur\n',
    );
    const answers = [
      'Leer',
      '<',
      'Nach dem Wochenende leer',
      'Beanstandung',
      '',
      'Berlin',
      'Kastenwagen',
      'Diesel',
      '',
      'Nass',
      '70',
      '680',
      'Laden',
    ];
    const terminal = recordingTerminal([...answers, '']);
    const given = { 'session.language': 'de' } as const;
    expect(
      await init(folder, options({ yes: false, from, given }), terminal, { ...WORLD, timezone: 'Etc/Unknown' }),
    ).toBe(0);
    expect(terminal.asked.slice(0, 3).map((question) => question.split(' (')[0])).toEqual([
      'Überschrift des Berichts',
      'Warum wird der Logger eingebaut',
      'Überschrift des Berichts',
    ]);
    expect(terminal.said.err).toMatch(
      /Aus dem Beispiel:\n {2}Zeit: "Zeit".*\n {2}Spannung: "Spannung", V\n {2}Strom: "Strom", Einheit unbekannt/,
    );
    const text = await manifestOf(folder);
    for (const line of [
      'title: Nach dem Wochenende leer',
      'purpose: complaint',
      'timezone: Europe/Berlin',
      'powertrain: combustion',
      'chemistry: flooded',
      'capacity: 70 Ah',
      'cold_cranking: 680 A',
      'positive: charging',
    ]) {
      expect(text).toContain(line);
    }
    expect(text).toMatch(/name: Strom\n {6}unit: +# FILL IN: A or mA/);
    expect(text).toMatch(/name: Temperatur\n {6}unit: +# FILL IN: °C, °F or K/);
  });

  it('has a flag for every field', () => {
    const command = withInitOptions(new Command());
    const words = DRAFT_FIELDS.flatMap(({ key }) => [`--${key.replaceAll('_', '-')}`, key]);
    command.parse(words, { from: 'user' });
    const expected = Object.fromEntries(DRAFT_FIELDS.map((field) => [pathOf(field), field.key]));
    expect(givenFields(command.opts())).toEqual(expected);
  });
});
