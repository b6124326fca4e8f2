/**
 * A redacted report: a word of its own in every text that a manifest takes and in the log's name, and none of those that
 * are to be left out in anything that is written, pages, tables, pictures and PDF.
 */
import { execFileSync } from 'node:child_process';
import { mkdirSync, mkdtempSync, readdirSync, readFileSync, rmSync, writeFileSync } from 'node:fs';
import { tmpdir } from 'node:os';
import { join } from 'node:path';
import { inflateSync } from 'node:zlib';
import { parquetReadObjects } from 'hyparquet';
import { afterAll, beforeAll, describe, expect, it } from 'vitest';
import { run } from '../../src/cli/run.ts';
import { browserPath } from '../report/browser-here.ts';
import { recordingTerminal } from './terminal.ts';

const work = mkdtempSync(join(tmpdir(), 'standstill-redact-'));
const out = join(work, 'out');
afterAll(() => rmSync(work, { recursive: true, force: true }));

/** In the manifest, each where its name says; registration and VIN once more within the words that stay. */
const LEFT_OUT = {
  title: 'qxtitle',
  concern: 'qxconcern',
  registration: 'QX-17-REG',
  vin: 'QXVIN000000000017',
  place: 'qxplace',
  note: 'qxnote',
  photo: 'qxphoto',
  caption: 'qxcaption',
  file: 'qxfile',
  cell: 'qxcell',
  column: 'qxcolumn',
  pattern: 'qxpattern',
  assessed: 'qxassessed',
  done: 'qxdone',
  offered: 'qxoffered',
};
const STAYS = ['HL-qzorder', 'qztechnician', 'qzdescription', 'qzlabel', 'qzsource'];

const manifest = (id: string, day: number) => `standstill: 1
session:
  id: ${id}
  title: ${LEFT_OUT.title} again
  purpose: complaint
  concern: ${LEFT_OUT.concern} in the morning
  repair_order: HL-qzorder
  technician: qztechnician
  timezone: UTC
vehicle: {description: van qzdescription qx17 reg, registration: ${LEFT_OUT.registration}, vin: ${LEFT_OUT.vin}, powertrain: combustion, system_voltage: 12 V}
battery: {chemistry: flooded, capacity: 60 Ah}
log:
  files: ["*.csv"]
  columns:
    time: {name: time, format: "YYYY-MM-DD[T]HH:mm:ss[.000Z ${LEFT_OUT.pattern}]"}
    voltage: {name: v, unit: V}
    current: {name: ${LEFT_OUT.column} amps, unit: A, positive: charging}
  channels: [{name: c, label: qzlabel of qx/17/reg, active_above: 6 V}]
limits: {parked_draw: {max: 50 mA, source: qzsource for ${LEFT_OUT.vin.toLowerCase()}}}
install: {current_sensor: {place: ${LEFT_OUT.place} cable}}
notes: [{at: "2026-03-0${day}T02:00", text: ${LEFT_OUT.note} was there}]
photos: [{file: ${LEFT_OUT.photo}.png, text: ${LEFT_OUT.caption} of it}]
assessment: {text: ${LEFT_OUT.assessed} it, done: [${LEFT_OUT.done} that], offers: [{work: ${LEFT_OUT.offered} this, price: 12.50 €}]}
`;

/** Half a day parked, with wakes in which the circuit is on, and a row that cannot be read. */
function lay(id: string, day: number): string {
  const folder = join(work, id);
  mkdirSync(folder, { recursive: true });
  const rows = Array.from({ length: 4320 }, (_, k) => {
    const awake = k > 1000 && k % 360 < 12;
    const at = `${new Date(Date.UTC(2026, 2, day) + k * 10_000).toISOString()} ${LEFT_OUT.pattern}`;
    return k === 2000
      ? `${at},${LEFT_OUT.cell},-0.02,0`
      : `${at},12.6,${awake ? -3 : -0.02 - (k % 2) * 0.001},${awake ? 12 : 0}`;
  });
  // Two files that are written differently, so that the report tells of each by its name; one name holds the other.
  const text = `time,v,${LEFT_OUT.column} amps,c\n${rows.slice(0, 2160).join('\n')}\n`;
  writeFileSync(join(folder, '1.csv'), text);
  writeFileSync(
    join(folder, `${LEFT_OUT.file} 1.csv`),
    `time;v;${LEFT_OUT.column} amps;c\n${rows.slice(2160).join('\n').replaceAll(',', ';')}\n`,
  );
  writeFileSync(join(folder, `${LEFT_OUT.photo}.png`), '');
  writeFileSync(join(folder, 'session.yaml'), manifest(id, day));
  return folder;
}

async function call(...words: string[]) {
  const terminal = recordingTerminal();
  const code = await run(words, terminal);
  return { code, ...terminal.said };
}

/** Everything that was written, by path; of a PDF also what its streams and its pages hold, of Parquet the values. */
async function everything(folder = out): Promise<[path: string, text: string][]> {
  const files = readdirSync(folder, { recursive: true, withFileTypes: true }).filter((one) => one.isFile());
  return Promise.all(
    files.map(async (one): Promise<[string, string]> => {
      const path = join(one.parentPath, one.name);
      const bytes = readFileSync(path);
      return [path.slice(folder.length), await textOf(path, bytes)];
    }),
  );
}

async function textOf(path: string, bytes: Buffer): Promise<string> {
  if (path.endsWith('.pdf')) return pdfText(path, bytes);
  if (!path.endsWith('.parquet')) return bytes.toString('utf8');
  const rows = await parquetReadObjects({ file: new Uint8Array(bytes).buffer });
  return rows.map((row) => Object.values(row).join('\n')).join('\n');
}

function pdfText(path: string, bytes: Buffer): string {
  const raw = bytes.toString('latin1');
  const streams = [...raw.matchAll(/stream\r?\n([\s\S]*?)\r?\nendstream/g)].map(([, data]) => {
    try {
      return inflateSync(Buffer.from(data, 'latin1')).toString('utf8');
    } catch {
      return '';
    }
  });
  let pages = '';
  try {
    pages = execFileSync('pdftotext', [path, '-'], { encoding: 'utf8', stdio: ['ignore', 'pipe', 'ignore'] });
  } catch {
    // Not on every machine; the page that was printed is looked at in any case.
  }
  // Texts of the document itself are written in hex, as UTF-16.
  const texts = [raw, ...streams].flatMap((text) =>
    [...text.matchAll(/<(?:FEFF)?((?:[0-9A-F]{4})+)>/gi)].map(([, hex]) =>
      Buffer.from(hex, 'hex').swap16().toString('utf16le'),
    ),
  );
  return [raw, ...streams, ...texts, pages].join('\n');
}

/** Registration and VIN are found however they are parted. */
const plain = (text: string) => text.toLowerCase();
const FORMS: [string, RegExp][] = Object.entries(LEFT_OUT).map(([name, word]) => [
  name,
  new RegExp((word.match(/[A-Za-z0-9]/g) ?? []).join('[^a-z0-9]{0,2}'), 'i'),
]);

describe('a redacted archive', () => {
  const ids = ['first-visit', 'QX17REG-march'];
  beforeAll(async () => {
    const folders = ids.map((id, k) => lay(id, 3 + k));
    const pdf = browserPath ? ['--browser', browserPath] : ['--no-pdf'];
    expect(await call('build', ...folders, '--out', out, '--redact', ...pdf)).toMatchObject({ code: 0, err: '' });
    const built = readdirSync(join(out, 'sessions')).sort();
    // The registration was in the id, so the folder has another name.
    expect(built).toEqual(['first-visit', expect.stringMatching(/^redacted-[0-9a-f]{12}$/)]);
    expect((await call('compare', built[0], built[1], '--out', out, '--no-pdf')).code).toBe(0);
    expect((await call('tables', '--out', out)).code).toBe(0);
    expect((await call('index', out)).code).toBe(0);
  }, 120_000);

  it.each(FORMS)('holds no %s', async (_, form) => {
    const files = await everything();
    expect(files.map(([path]) => path).filter((path) => path.endsWith('index.html')).length).toBe(4);
    expect(files.filter(([path, text]) => form.test(text) || form.test(path)).map(([path]) => path)).toEqual([]);
  });

  it('holds what a verdict and the shop’s own filing need', () => {
    const report = readFileSync(join(out, 'sessions', 'first-visit', 'report.json'), 'utf8');
    for (const word of STAYS) expect(plain(report)).toContain(plain(word));
    expect(JSON.parse(report).session).toMatchObject({ redacted: true, title: 'Complaint', notes: [], photos: [] });
  });

  it('is told from one that is not: there every word stands', async () => {
    const whole = join(work, 'whole');
    expect((await call('build', join(work, 'first-visit'), '--out', whole, '--no-pdf')).code).toBe(0);
    const text = readFileSync(join(whole, 'sessions', 'first-visit', 'report.json'), 'utf8');
    for (const [name, form] of FORMS) expect(text, name).toMatch(form);
  });
});

describe('an archive whose sessions are redacted later', () => {
  it('keeps nothing of what it showed before, and says what went', async () => {
    const later = join(work, 'later');
    const folders = [lay('first-visit', 3), lay('second-visit', 4)];
    const build = (...words: string[]) => call('build', ...folders, '--out', later, '--no-pdf', ...words);
    expect((await build()).code).toBe(0);
    expect((await call('compare', 'first-visit', 'second-visit', '--out', later, '--no-pdf')).code).toBe(0);
    expect((await call('tables', '--out', later)).code).toBe(0);
    const { code, err } = await build('--redact');
    expect(code).toBe(0);
    expect(err).toContain(`${join(later, 'comparisons', 'first-visit--second-visit')} was taken away`);
    expect(err).toContain(`${join(later, 'tables')} was taken away`);
    const files = await everything(later);
    for (const [name, form] of FORMS)
      expect(
        files.filter(([path, text]) => form.test(text) || form.test(path)),
        name,
      ).toEqual([]);
    // What is made from redacted reports stays.
    expect((await call('compare', 'first-visit', 'second-visit', '--out', later, '--no-pdf')).code).toBe(0);
    lay('second-visit', 5);
    expect((await build('--redact')).err).toBe('');
    expect(readdirSync(join(later, 'comparisons'))).toEqual(['first-visit--second-visit']);
  }, 60_000);

  it('that keeps its old name beside the neutral one is told of', async () => {
    const later = join(work, 'renamed');
    const folder = lay('QX17REG-april', 3);
    expect((await call('build', folder, '--out', later, '--no-pdf')).code).toBe(0);
    const { err } = await call('build', folder, '--out', later, '--no-pdf', '--redact');
    expect(err).toMatch(/QX17REG-april stays as it is: the redacted report is .*redacted-/);
  }, 60_000);
});
