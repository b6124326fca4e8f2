/** Manifests that reach for what is not theirs, through the command line: refused, named, and nothing is shown or written. */
import { execFileSync } from 'node:child_process';
import {
  existsSync,
  mkdirSync,
  mkdtempSync,
  readdirSync,
  readFileSync,
  rmSync,
  symlinkSync,
  writeFileSync,
} from 'node:fs';
import { tmpdir } from 'node:os';
import { join } from 'node:path';
import { afterAll, beforeEach, describe, expect, it } from 'vitest';
import { run } from '../../src/cli/run.ts';
import { recordingTerminal } from './terminal.ts';

const SECRET = 'not-for-the-workshop';
const ROWS = Array.from(
  { length: 900 },
  (_, k) => `${new Date(k * 1000 + 1_772_530_800_000).toISOString()},12.6,-0.02`,
);
const LOG = ['time,v,a', ...ROWS, ''].join('\n');

const base = mkdtempSync(join(tmpdir(), 'standstill-attacks-'));
afterAll(() => rmSync(base, { recursive: true, force: true }));
let session = '';
let out = '';
let cases = 0;

beforeEach(() => {
  const folder = join(base, String(cases++));
  session = join(folder, 'session');
  out = join(folder, 'out');
  mkdirSync(join(session, 'log'), { recursive: true });
  writeFileSync(join(session, 'log', 'a.csv'), LOG);
  writeFileSync(join(folder, 'secret.csv'), `${SECRET},v,a\n${LOG}`);
});

const manifest = ({ files = 'log/a.csv', id = 'attack', title = 'Attack', more = '' }) => `standstill: 1
session: {id: ${id}, title: ${title}, purpose: baseline, timezone: UTC}
vehicle: {description: van, powertrain: combustion, system_voltage: 12 V}
battery: {chemistry: flooded}
log:
  files: [${JSON.stringify(files)}]
  columns: {time: {name: time}, voltage: {name: v, unit: V}, current: {name: a, unit: A, positive: charging}}
${more}`;

async function build(text: string) {
  writeFileSync(join(session, 'session.yaml'), text);
  const terminal = recordingTerminal();
  const code = await run(['build', session, '--out', out, '--no-pdf'], terminal);
  return { code, ...terminal.said };
}

async function expectRefused(text: string, because: RegExp): Promise<void> {
  const { code, err } = await build(text);
  expect(code).toBe(1);
  expect(err).toMatch(because);
  expect(err).not.toContain(SECRET);
  // An error told to a person, not a crash.
  expect(err).not.toMatch(/^\s+at /m);
  expect(readdirSync(join(session, '..')).sort()).toEqual(['out', 'secret.csv', 'session']);
  expect(existsSync(join(out, 'sessions'))).toBe(false);
}

describe('a log may not be', () => {
  it.each([
    ['above the session', '../secret.csv'],
    ['above it by a detour', 'log/../../secret.csv'],
    ['above it by a pattern', '../*.csv'],
    ['named from the root', join(base, '0', 'secret.csv')],
    ['named the Windows way', '..\\secret.csv'],
    ['on another drive', 'C:/secret.csv'],
    ['a device', '/dev/zero'],
    ['a device of Windows', 'log/CON.csv'],
  ])('%s', (_, files) => expectRefused(manifest({ files }), /session\.yaml:6/));

  it.skipIf(process.platform === 'win32')('behind a link', async () => {
    symlinkSync(join(session, '..', 'secret.csv'), join(session, 'log', 'b.csv'));
    symlinkSync('/dev/zero', join(session, 'log', 'c.csv'));
    symlinkSync(join(session, '..'), join(session, 'up'));
    await expectRefused(manifest({ files: 'log/b.csv' }), /"log\/b\.csv" cannot be used/);
    await expectRefused(manifest({ files: 'log/c.csv' }), /"log\/c\.csv" cannot be used/);
    await expectRefused(manifest({ files: 'log/*.csv' }), /"log\/b\.csv" cannot be used/);
    await expectRefused(manifest({ files: 'up/secret.csv' }), /"up\/secret\.csv" cannot be used|"up" cannot be used/);
  });

  it.skipIf(process.platform === 'win32')('a pipe, which would be waited for in vain', async () => {
    execFileSync('mkfifo', [join(session, 'log', 'b.csv')]);
    await expectRefused(manifest({ files: 'log/b.csv' }), /log\/b\.csv/);
    await expectRefused(manifest({ files: 'log/*.csv' }), /log\/b\.csv/);
  });
});

describe('a manifest may not', () => {
  it.each(['../evil', 'a/b', '..', 'C:evil', '/evil', '"con"'])('be filed as %s', (id) =>
    expectRefused(manifest({ id }), /session\.id/),
  );

  it('show a file from elsewhere as a photo', () =>
    expectRefused(manifest({ more: 'photos: [../secret.csv]\n' }), /photos/));

  it('be endless by aliases', () => {
    const levels = Array.from({ length: 30 }, (_, k) => `x${k + 1}: &x${k + 1} [*x${k}, *x${k}, *x${k}, *x${k}]`);
    return expectRefused(manifest({ more: ['x0: &x0 lol', ...levels, ''].join('\n') }), /session\.yaml/);
  });

  it('contain itself', () => expectRefused(manifest({ more: 'notes: &n [*n]\n' }), /session\.yaml/));

  it('be of any size', () => expectRefused(manifest({ more: `# ${'x'.repeat(20 << 20)}\n` }), /session\.yaml/));

  it('be a thousand lists deep', () =>
    expectRefused(manifest({ more: `notes: ${'['.repeat(5000)}${']'.repeat(5000)}\n` }), /session\.yaml/));
});

it('markup in names is text in everything that is written', async () => {
  const markup = '</script><img src=x onerror=alert(1)>{{title}}';
  writeFileSync(join(session, 'log', 'a&b<i>.csv'), LOG);
  const { code, err } = await build(
    manifest({
      title: JSON.stringify(markup),
      files: 'log/*i*.csv',
      more: `notes: [{at: 2026-03-03T10:00:00, text: ${JSON.stringify(markup)}}]\n`,
    }),
  );
  expect([code, err]).toEqual([0, '']);
  for (const page of [join(out, 'index.html'), join(out, 'sessions', 'attack', 'index.html')]) {
    const html = readFileSync(page, 'utf8');
    expect(html).toContain('&lt;/script&gt;');
    expect(html).not.toMatch(/<img src=x|<i>\.csv|<\/script><img/);
  }
});
