/**
 * What lies where a file or a folder of ours is looked for, and is something else: a pipe that would be waited for, a file of
 * any size, a file system that makes nothing, somebody else's page. Each is told at once, and nothing of others is touched.
 */
import { execFileSync } from 'node:child_process';
import {
  existsSync,
  mkdirSync,
  mkdtempSync,
  readFileSync,
  rmSync,
  symlinkSync,
  truncateSync,
  writeFileSync,
} from 'node:fs';
import { tmpdir } from 'node:os';
import { join } from 'node:path';
import { afterEach, beforeEach, describe, expect, it } from 'vitest';
import { run } from '../../src/cli/run.ts';
import { stored } from '../archive/reports.ts';
import { recordingTerminal } from './terminal.ts';

const isPosix = process.platform !== 'win32';
let work = '';
let out = '';
let session = '';
beforeEach(() => {
  work = mkdtempSync(join(tmpdir(), 'standstill-odd-'));
  out = join(work, 'out');
  session = join(work, 'session');
  mkdirSync(join(out, 'sessions', 'ann-1'), { recursive: true });
  writeFileSync(
    join(out, 'sessions', 'ann-1', 'report.json'),
    JSON.stringify(stored('ann-1', '2026-03-03T00:00:00.000Z')),
  );
  mkdirSync(session);
  const rows = Array.from({ length: 600 }, (_, k) => `${1_772_530_800 + k},12.6`);
  writeFileSync(join(session, 'log.csv'), `time,v\n${rows.join('\n')}\n`);
  writeFileSync(
    join(session, 'session.yaml'),
    `standstill: 1
session: {id: bea-1, title: A, purpose: baseline, timezone: UTC}
vehicle: {description: van, powertrain: combustion, system_voltage: 12 V}
battery: {chemistry: flooded}
log: {files: [log.csv], columns: {time: {name: time, format: epoch-s}, voltage: {name: v, unit: V}}}
`,
  );
});
afterEach(() => rmSync(work, { recursive: true, force: true }));

async function call(...words: string[]) {
  const terminal = recordingTerminal();
  const code = await run(words, terminal);
  expect(terminal.said.err).not.toMatch(/bug|^\s+at /m);
  return { code, ...terminal.said };
}
const pipe = (path: string) => {
  rmSync(path, { force: true });
  execFileSync('mkfifo', [path]);
};

describe.skipIf(!isPosix)('a pipe, or a link to what never ends,', () => {
  it('in place of a manifest', async () => {
    const link = join(work, 'linked');
    mkdirSync(link);
    symlinkSync('/dev/zero', join(link, 'session.yaml'));
    pipe(join(session, 'session.yaml'));
    const { code, err } = await call('build', session, link, '--out', out, '--no-pdf');
    expect(code).toBe(1);
    expect(err).toContain('it is not a regular file');
    expect(err).toContain('a link in it leads out of the session folder');
  });

  it('in place of what a report was made from: it is made anew', async () => {
    expect((await call('build', session, '--out', out, '--no-pdf')).code).toBe(0);
    const note = join(out, 'sessions', 'bea-1', 'made-from.json');
    pipe(note);
    expect((await call('build', session, '--out', out, '--no-pdf', '--replace')).code).toBe(0);
    expect(JSON.parse(readFileSync(note, 'utf8')).schema).toBe('standstill-made-from/1');
  });

  it('in place of a shop’s template: it stands in for none', async () => {
    mkdirSync(join(out, 'ours'));
    pipe(join(out, 'ours', 'archive.hbs'));
    writeFileSync(join(out, 'shop.yaml'), 'templates: ours\n');
    expect(await call('index', out)).toMatchObject({ code: 0, err: '' });
  });
});

describe('a file of any size', () => {
  it('as a report is named, and stops nobody', async () => {
    const large = join(out, 'sessions', 'large');
    mkdirSync(large);
    writeFileSync(join(large, 'report.json'), '');
    truncateSync(join(large, 'report.json'), 700 << 20);
    expect(await call('index', out)).toMatchObject({
      code: 1,
      err: 'large: report.json is missing or cannot be read.\n',
    });
    expect(readFileSync(join(out, 'index.html'), 'utf8')).toContain('ann-1');
  });

  it('as a shop’s file is refused', async () => {
    writeFileSync(join(out, 'shop.yaml'), `# ${'x'.repeat(300 << 10)}\n`);
    expect(await call('index', out)).toMatchObject({
      code: 1,
      err: expect.stringMatching(/^shop\.yaml .*up to 256 KiB/),
    });
  });
});

it('numbers that nothing could measure, in a report of somebody’s making, stop nobody either', async () => {
  const folder = join(out, 'sessions', 'bob-1');
  const report = JSON.parse(readFileSync(join(out, 'sessions', 'ann-1', 'report.json'), 'utf8'));
  report.session.id = 'bob-1';
  report.session.vehicle.odometer_km = 1e308;
  mkdirSync(folder);
  writeFileSync(join(folder, 'report.json'), JSON.stringify(report));
  const { code, err } = await call('index', out);
  expect(code).toBe(1);
  expect(err).toBe(
    'bob-1: report.json, session.vehicle.odometer_km: is larger than anything that could be measured.\n',
  );
});

describe.skipIf(!existsSync('/proc/self'))('a file system that makes nothing', () => {
  it.each([
    ['index', '/proc'],
    ['tables', '--out', '/proc'],
    ['desk', '--out', '/proc/archive'],
  ])('%s %s %s', async (...words) => {
    const { code, err } = await call(...words.filter(Boolean));
    expect(code).toBe(1);
    expect(err).toMatch(/nothing can be made there|no archive/);
  });
  it('build', async () => {
    const { code, err } = await call('build', session, '--out', '/proc/one/two', '--no-pdf');
    expect(code).toBe(1);
    expect(err).toContain('/proc/one/two cannot be written: nothing can be made there');
  });
  it('init', async () => {
    const { code, err } = await call('init', '/proc/one', '--yes', '--no-pdf');
    expect(code).toBe(1);
    expect(err).toContain('/proc/one');
  });
});

describe('a folder of somebody else', () => {
  it('keeps its first page', async () => {
    const site = join(work, 'site');
    mkdirSync(site);
    writeFileSync(join(site, 'index.html'), 'mine');
    const built = await call('build', session, '--out', site, '--no-pdf');
    expect(built).toMatchObject({ code: 1, err: expect.stringContaining('This is a page of somebody else’s') });
    expect(await call('index', site)).toMatchObject({ code: 1, err: expect.stringContaining('is no archive') });
    expect(readFileSync(join(site, 'index.html'), 'utf8')).toBe('mine');
  });
});
