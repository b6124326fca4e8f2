/** Times that the manifest reads in another way than the logger wrote them; whatever is proposed must read them. */
import { readFile } from 'node:fs/promises';
import { join } from 'node:path';
import { afterAll, beforeAll, describe, expect, it } from 'vitest';
import { standstill, VAN_MANIFEST, VAN_START_MS, type VanFiles, vanFiles, vanRows } from './van.ts';

let files: VanFiles;
let made = 0;
beforeAll(async () => {
  files = await vanFiles();
});
afterAll(() => files.remove());

const two = (n: number) => String(n).padStart(2, '0');

/** From 3 March 2026, 17:40. */
const clocks = {
  dayFirst: (d: Date) =>
    `${two(d.getUTCDate())}/${two(d.getUTCMonth() + 1)}/${d.getUTCFullYear()} ${d.toISOString().slice(11, 19)}`,
  twelve: (d: Date) =>
    `${two(d.getUTCMonth() + 1)}/${two(d.getUTCDate())}/${d.getUTCFullYear()} ${half(d, `:${two(d.getUTCSeconds())}`)}`,
  twelveNoSeconds: (d: Date) =>
    `${d.getUTCMonth() + 1}/${d.getUTCDate()}/${two(d.getUTCFullYear() % 100)} ${half(d, '')}`,
  spreadsheet: (d: Date) => `${two(d.getUTCMinutes())}:${two(d.getUTCSeconds())}.0`,
  count: (d: Date) => String(d.getTime() - VAN_START_MS),
  seconds: (d: Date) => String((d.getTime() - VAN_START_MS) / 1000),
};

function half(date: Date, seconds: string): string {
  const hour = date.getUTCHours();
  return `${hour % 12 || 12}:${two(date.getUTCMinutes())}${seconds} ${hour < 12 ? 'AM' : 'PM'}`;
}

interface Way {
  readonly write: keyof typeof clocks;
  readonly days?: number;
  readonly name?: string;
  readonly format?: string;
  readonly more?: string;
}

async function folderOf({ write, days = 2, name = 'time', format, more = '' }: Way) {
  const rows = vanRows(days).map(
    ({ s, volts, amps }) =>
      `${clocks[write](new Date(VAN_START_MS + s * 1000))},${volts.toFixed(3)},${amps.toFixed(3)}`,
  );
  const time = `{name: ${name}${format === undefined ? '' : `, format: "${format}"`}}`;
  const manifest = VAN_MANIFEST.replace('{name: time}', time).replace('log:\n', `log:\n${more}`);
  return files.add(`times-${made++}`, { 'session.yaml': manifest, 'log.csv': `${name},U,I\n${rows.join('\n')}\n` });
}

const checked = async (way: Way) => standstill('check', await folderOf(way));

describe('day and month', () => {
  it('the wrong way round: says that the rows join in the other order', async () => {
    const { code, err } = await checked({ write: 'dayFirst', format: 'MM/DD/YYYY HH:mm:ss' });
    expect(err).toMatch(
      /time\.format: As "MM\/DD\/YYYY HH:mm:ss" the log lacks 59 days; .* join without a gap\. Say "DD\/MM\/YYYY HH:mm:ss"/,
    );
    expect(code).toBe(1);
  });

  it('the wrong way round within one day: the day of fitting tells', async () => {
    const folder = await folderOf({ write: 'dayFirst', format: 'MM/DD/YYYY HH:mm:ss', days: 0.25 });
    // The log's day is 3 March, either way round: a fitting on 4 March is near.
    const path = join(folder, 'session.yaml');
    const text = await readFile(path, 'utf8');
    await files.add(`${folder.slice(files.root.length + 1)}`, {
      'session.yaml': `${text}install: {fitted_at: 2026-03-04T17:30}\n`,
      'log.csv': (await readFile(join(folder, 'log.csv'), 'utf8')).replaceAll('03/03/2026', '04/03/2026'),
    });
    expect((await standstill('check', folder)).err).toMatch(
      /begins on 2026-04-03, and the logger was fitted on 2026-03-04/,
    );
  });

  it('is asked with patterns that read the cells', async () => {
    const { err } = await checked({ write: 'twelve' });
    expect(err).toMatch(
      /"03\/03\/2026 5:40:00 PM": day first or month first\? Say "DD\/MM\/YYYY hh:mm:ss A" or "MM\/DD\/YYYY hh:mm:ss A"/,
    );
    const [, monthFirst] = /or "([^"]+)"/.exec(err) as RegExpExecArray;
    expect(await checked({ write: 'twelve', format: monthFirst })).toMatchObject({ code: 0 });
  });
});

describe('a pattern that reads no cell', () => {
  it('quotes the cell and names the pattern that does', async () => {
    const { err } = await checked({ write: 'twelve', format: 'MM/DD/YYYY HH:mm:ss' });
    expect(err).toMatch(
      /"MM\/DD\/YYYY HH:mm:ss" reads none of the log's times, which look like "03\/03\/2026 5:40:00 PM"/,
    );
    expect(err).toContain('"MM/DD/YYYY hh:mm:ss A"');
  });

  it('also where a spreadsheet dropped the seconds, or the hours', async () => {
    const { err } = await checked({ write: 'twelveNoSeconds', format: 'MM/DD/YY HH:mm:ss' });
    expect(err).toContain('"MM/DD/YY hh:mm A"');
    expect(await checked({ write: 'twelveNoSeconds', format: 'MM/DD/YY hh:mm A' })).toMatchObject({ code: 0 });
    expect((await checked({ write: 'spreadsheet' })).err).toContain('a spreadsheet has shortened them');
  });
});

describe('counts', () => {
  const start = '  start: 2026-03-03T17:40:00\n';

  it('asks what fits the file: milliseconds are not proposed as seconds', async () => {
    const { err } = await checked({ write: 'count' });
    expect(err).toContain('Then say elapsed-ms (a row each 10 s) or elapsed-s (a row each 10000 s), and log.start.');
  });

  it('reads milliseconds from the start', async () => {
    const { code, out } = await checked({ write: 'count', format: 'elapsed-ms', more: start });
    expect(code).toBe(0);
    expect(out).toMatch(/48\sh\s+covered/);
    expect(await checked({ write: 'count', name: 'time_ms', more: start })).toMatchObject({ code: 0 });
  });

  it("refuses a unit that the column's name contradicts, and dates where a count is said", async () => {
    expect((await checked({ write: 'count', name: 't_ms', format: 'elapsed-s', more: start })).err).toContain(
      'Say elapsed-ms.',
    );
    expect((await checked({ write: 'seconds', name: 't_s', format: 'elapsed-ms', more: start })).err).toContain(
      'Say elapsed-s.',
    );
    const { err } = await checked({ write: 'twelve', format: 'elapsed-s', more: start });
    expect(err).toContain('elapsed-s takes numbers');
  });
});

describe('no time column at all', () => {
  const noTime = VAN_MANIFEST.replace('    time: {name: time}\n', '').replace(
    'log:\n',
    'log:\n  start: 2026-03-03T17:40:00\n  step: 10 s\n',
  );
  const text = (from: number, to: number) =>
    `U,I\n${vanRows()
      .slice(from, to)
      .map(({ volts, amps }) => `${volts.toFixed(3)},${amps.toFixed(3)}\n`)
      .join('')}`;

  it('counts rows by log.step, over files, and keeps the place of a damaged row', async () => {
    const broken = text(0, 9000).replace('14.300,22.000\n', '14.300;;22\n');
    const folder = await files.add('no-time', { 'session.yaml': noTime, 'a.csv': broken, 'b.csv': text(9000, 17280) });
    const { code, out } = await standstill('check', folder, '--json');
    expect(code).toBe(0);
    const { log } = JSON.parse(out);
    expect(log).toMatchObject({
      start: '2026-03-03T17:40:00.000Z',
      end: '2026-03-05T17:39:50.000Z',
      median_step_s: 10,
    });
  });

  it('says what is missing: the step or the column', async () => {
    const folder = await files.add('no-step', {
      'session.yaml': noTime.replace('  step: 10 s\n', ''),
      'a.csv': text(0, 99),
    });
    expect((await standstill('check', folder)).err).toMatch(/log\.columns\.time: Missing.* log\.step/);
    const both = await files.add('both', {
      'session.yaml': VAN_MANIFEST.replace('log:\n', 'log:\n  step: 1 s\n'),
      'a.csv': 'time,U,I\n',
    });
    expect((await standstill('check', both)).err).toMatch(/log\.step: /);
  });
});
