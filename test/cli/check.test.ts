import { mkdir, mkdtemp, readdir, rm, writeFile } from 'node:fs/promises';
import { tmpdir } from 'node:os';
import { join } from 'node:path';
import { afterAll, beforeAll, describe, expect, it } from 'vitest';
import { run } from '../../src/cli/run.ts';
import { stored } from '../archive/reports.ts';
import { recordingTerminal } from './terminal.ts';

const MANIFEST = `standstill: 1
session: {id: check-me, title: Before it is given back, purpose: complaint, timezone: Europe/Dublin}
vehicle: {description: Invented van, powertrain: combustion, system_voltage: 12 V}
battery: {chemistry: flooded}
log:
  files: [log.csv]
  columns:
    time: {name: time}
    voltage: {name: battery_v, unit: V, accuracy: 10 mV}
    current: {name: battery_a, unit: A, positive: charging, accuracy: 5 mA}
install:
  fitted_at: 2026-03-03T17:35
  memory_saver: {used: true, voltage_before: 12.4 V, voltage_during: 13.4 V}
  draw_at_start: 0.85 A
`;

let root: string;
let folder: string;
beforeAll(async () => {
  root = await mkdtemp(join(tmpdir(), 'standstill-check-'));
  folder = join(root, 'session');
  await mkdir(folder);
  await writeFile(join(folder, 'session.yaml'), MANIFEST);
  await writeFile(join(folder, 'log.csv'), log());
});
afterAll(() => rm(root, { recursive: true }));

/** Five minutes on the memory supply, ten awake at 0.85 A, then two hours asleep at 20 mA; a row each 5 s. */
function log(): string {
  const start = Date.UTC(2026, 2, 3, 17, 40);
  const rows = Array.from({ length: 1620 }, (_, k) => {
    const s = 5 * k;
    const [volts, amps] = s < 300 ? [13.4, 0.2] : s < 900 ? [12.5, -0.85] : [12.5, -0.02];
    return `${new Date(start + s * 1000).toISOString()},${volts.toFixed(3)},${(amps + 0.001 * (k % 2)).toFixed(3)}`;
  });
  return `time,battery_v,battery_a\n${rows.join('\n')}\n`;
}

async function checked(...words: string[]) {
  const terminal = recordingTerminal();
  const code = await run(['check', ...words], terminal);
  return { code, ...terminal.said };
}

describe('check', () => {
  it('fits one screen, says what was understood, and writes nothing', async () => {
    const { code, out } = await checked(folder);
    expect(code).toBe(0);
    const lines = out.trimEnd().split('\n');
    expect(lines.length).toBeLessThanOrEqual(45);
    expect(Math.max(...lines.map((line) => line.length))).toBeLessThanOrEqual(100);
    expect(out).toContain('"battery_a" in A, accuracy 0 % + 0.005 A');
    expect(out).toContain('1620 rows, 0 not readable');
    expect(await readdir(folder)).toEqual(['log.csv', 'session.yaml']);
  });

  it('holds the fitting record against the log', async () => {
    const { out } = await checked(folder, '--json');
    const { fitting } = JSON.parse(out);
    const of = (what: string) => fitting.find((one: { what: string }) => one.what === what);
    expect(of('clock-start').agrees).toBe('agrees');
    expect(of('memory-supply').agrees).toBe('agrees');
    expect(of('draw-at-start').agrees).toBe('agrees');
    expect(of('clock-end').reason).toBe('not-told');
  });

  it('names a clock that is an hour off', async () => {
    const other = join(root, 'clock');
    await mkdir(other);
    await writeFile(join(other, 'session.yaml'), MANIFEST.replace('T17:35', 'T18:38'));
    await writeFile(join(other, 'log.csv'), log());
    expect((await checked(other)).out.replaceAll(/\s+/g, ' ')).toContain('DOES NOT AGREE, off by whole hours');
  });

  it('puts checks that lack the same thing together', async () => {
    const { undecided, decided } = JSON.parse((await checked(folder, '--json')).out);
    const lacking = undecided.map((one: { check: string }) => one.check);
    expect(lacking).toContain('circuit-link');
    expect([...lacking, ...decided].length).toBe(25);
    expect((await checked(folder)).out).toMatch(/cannot decide {2}[\s\S]*circuit-link, circuit-drop: No circuit/);
  });

  it('tells every fault of a manifest, and goes on with the next folder', async () => {
    const broken = join(root, 'broken');
    await mkdir(broken);
    await writeFile(join(broken, 'session.yaml'), MANIFEST.replace('unit: V', 'unit: W').replace('12 V}', '13 V}'));
    const { code, out, err } = await checked(broken, folder);
    expect(code).toBe(1);
    expect(err).toContain('log.columns.voltage.unit');
    expect(err).toContain('vehicle.system_voltage');
    expect(out).toContain('check-me');
  });

  it('says which limits a healthy session gives and which not, or that it is not there', async () => {
    const leaning = join(root, 'leaning');
    await mkdir(leaning);
    await writeFile(join(leaning, 'session.yaml'), `${MANIFEST}limits: {from: healthy}\n`);
    await writeFile(join(leaning, 'log.csv'), log());
    const out = join(root, 'archive');
    const lost = await checked(leaning, '--out', out);
    expect(lost).toMatchObject({ code: 1, err: expect.stringContaining('limits.from: There is no session "healthy"') });
    await mkdir(join(out, 'sessions', 'healthy'), { recursive: true });
    const report = JSON.stringify(stored('healthy', '2026-03-01T00:00:00.000Z'));
    await writeFile(join(out, 'sessions', 'healthy', 'report.json'), report);
    const { code, out: told } = await checked(leaning, '--out', out);
    expect(code).toBe(0);
    const flat = told.replaceAll(/\s+/g, ' ');
    expect(flat).toMatch(/limits parkedDraw .* \(Session healthy: /);
    expect(flat).toContain('limits left sleepWithin: the default, session healthy gives none');
  });
});

describe('check of a session in a language of the shop', () => {
  const french = async (name: string, language = 'fr') => {
    const place = join(root, name);
    await mkdir(place);
    await writeFile(join(place, 'session.yaml'), MANIFEST.replace('timezone:', `language: ${language}, timezone:`));
    await writeFile(join(place, 'log.csv'), log());
    return place;
  };

  it('takes what the archive named with --out has words in, and lists it where there are none', async () => {
    const out = join(root, 'shop');
    await mkdir(join(out, 'words', 'fr'), { recursive: true });
    await writeFile(join(out, 'words', 'fr', 'labels.yaml'), 'locale: fr-FR\n');
    await writeFile(join(out, 'shop.yaml'), 'content: words\n');
    expect(await checked(await french('french'), '--out', out)).toMatchObject({ code: 0, err: '' });
    const { code, err } = await checked(await french('frisian', 'fy'), '--out', out);
    expect(code).toBe(1);
    expect(err).toContain('frisian: session.yaml:2:87 session.language: Found "fy".');
    expect(err).toContain('Expected: de, en or fr.');
    expect(err).not.toContain('--out');
  });

  it('without a shop refuses it as build would, after telling the rest, and says where one is looked for', async () => {
    const out = join(root, 'no-shop');
    const { code, out: told, err } = await checked(await french('alone'), '--out', out);
    expect(code).toBe(1);
    expect(told).toContain('1620 rows, 0 not readable');
    expect(err).toContain('session.language: Found "fr". Expected: de or en.');
    expect(err).toContain(`${out} has none; --out names another archive.`);
  });

  it('tells what is wrong with shop.yaml, as build does', async () => {
    const out = join(root, 'odd-shop');
    await mkdir(out);
    await writeFile(join(out, 'shop.yaml'), 'content: nowhere\n');
    const { code, err } = await checked(folder, '--out', out);
    expect({ code, err }).toEqual({
      code: 1,
      err: expect.stringMatching(/^shop\.yaml:1:\d+ content: Found "nowhere"/),
    });
  });
});

describe('checks', () => {
  it('lists every check with its question, and each limit with its source', async () => {
    const terminal = recordingTerminal();
    expect(await run(['checks', '--json'], terminal)).toBe(0);
    const list = JSON.parse(terminal.said.out);
    expect(list).toHaveLength(25);
    for (const { question, limits } of list) {
      expect(question).toMatch(/\?$/);
      for (const limit of limits) expect(limit.source).not.toBe('');
    }
    const words = recordingTerminal();
    await run(['checks'], words);
    for (const { check, question } of list) {
      expect(words.said.out).toContain(check);
      expect(words.said.out.replaceAll(/\s+/g, ' ')).toContain(question);
    }
  });
});
