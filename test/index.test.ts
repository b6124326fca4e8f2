/** The library as another program sees it: the example of DEVELOPERS.md, run as it stands there, beside what `build` writes. */
import { execFileSync } from 'node:child_process';
import { mkdirSync, mkdtempSync, readFileSync, rmSync, symlinkSync, writeFileSync } from 'node:fs';
import { tmpdir } from 'node:os';
import { basename, join, resolve } from 'node:path';
import { afterAll, beforeAll, expect, it } from 'vitest';
import { build } from '../src/cli/build.ts';
import { demoSessions } from '../src/demo/scenarios.ts';
import { writeSession } from '../src/demo/write-session.ts';
import { recordingTerminal } from './cli/terminal.ts';
import { disk } from './demo/disk.ts';

const CHECKOUT = resolve(import.meta.dirname, '..');
const [, example = ''] = /```js\n([\s\S]*?)```/.exec(readFileSync(join(CHECKOUT, 'DEVELOPERS.md'), 'utf8')) ?? [];
const [, folder = ''] = /readSession\('(.*?)'\)/.exec(example) ?? [];
const place = mkdtempSync(join(tmpdir(), 'standstill-library-'));

beforeAll(async () => {
  const session = demoSessions().find(({ words }) => words.session.id === basename(folder));
  if (session) await writeSession(join(place, folder), session, disk);
  mkdirSync(join(place, 'node_modules'));
  symlinkSync(CHECKOUT, join(place, 'node_modules', 'standstill'), 'junction');
});

afterAll(() => rmSync(place, { recursive: true, force: true }));

it('makes the files that a build writes', async () => {
  writeFileSync(join(place, 'example.mjs'), example);
  const said = execFileSync(process.execPath, ['example.mjs'], { cwd: place, encoding: 'utf8' }).trim().split('\n');
  const options = { out: join(place, 'out'), pdf: false, redact: false, jobs: 1, quiet: true };
  await build([join(place, folder)], options, recordingTerminal());
  const made = said.filter((line) => line.includes('.')).map((line) => line.split(' '));
  const files = made.filter(([path = '']) => /\.(json|csv|html)$/.test(path));
  expect(files.length).toBeGreaterThan(10);
  for (const [path = '', length] of files)
    expect(readFileSync(join(options.out, 'sessions', basename(folder), path), 'utf8').length, path).toBe(
      Number(length),
    );
  expect(said.some((line) => /^parked-draw \d\.\d+ A$|^wake-ups /.test(line))).toBe(true);
});
