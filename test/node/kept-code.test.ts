/** The packed program starts with the code that the engine kept of it, and does without where the engine cannot use it. */
import { execFileSync } from 'node:child_process';
import { cpSync, mkdtempSync, readdirSync, readFileSync, rmSync, symlinkSync, truncateSync } from 'node:fs';
import { tmpdir } from 'node:os';
import { join, resolve } from 'node:path';
import { afterAll, expect, test } from 'vitest';

const PROJECT = resolve(import.meta.dirname, '../..');
const PACKED = join(PROJECT, '.build/bin');
const base = mkdtempSync(join(tmpdir(), 'standstill-kept-'));
afterAll(() => rmSync(base, { recursive: true, force: true }));

const codes = (folder: string) => readdirSync(folder).filter((name) => name.endsWith('.code'));
const node = (...args: readonly string[]) => execFileSync(process.execPath, args, { encoding: 'utf8' });

test('the engine knows its own code again, with the flags of the program', () => {
  const names = codes(PACKED);
  // What a build loads in any case.
  expect(names).toEqual(expect.arrayContaining(['standstill.packed.js.code', 'draw.js.code', 'read-log.js.code']));
  // In a process of its own: flags hold for all of one.
  const asked = `
    const { setEngine } = await import(${JSON.stringify(join(PROJECT, '.build/node/engine.js'))});
    const { readFileSync } = await import('node:fs');
    const { asFunction } = await import(${JSON.stringify(join(PROJECT, '.build/node/kept-code.js'))});
    const { Script } = await import('node:vm');
    setEngine();
    const refused = ${JSON.stringify(names)}.filter((name) => {
      const path = ${JSON.stringify(PACKED)} + '/' + name;
      const source = asFunction(readFileSync(path.replace(/\\.code$/, ''), 'latin1'));
      return new Script(source, { cachedData: readFileSync(path) }).cachedDataRejected;
    });
    console.log(JSON.stringify(refused));`;
  expect(JSON.parse(node('--input-type=module', '-e', asked))).toEqual([]);
});

test('the packed program asks for what is not packed by `require`: kept code has no other way', () => {
  const files = readdirSync(PACKED).filter((name) => name.endsWith('.js'));
  expect(files.filter((name) => /\bimport\(/.test(readFileSync(join(PACKED, name), 'latin1')))).toEqual([]);
  const asking = files.filter((name) => readFileSync(join(PACKED, name), 'latin1').includes('require("puppeteer")'));
  expect(asking).toHaveLength(1);
});

test.each([
  ['kept by an engine with other flags', ['--no-opt'], () => {}],
  ['cut off', [], (path: string) => truncateSync(path, 100)],
  ['missing', [], (path: string) => rmSync(path)],
])('code that is %s is not used', (what, flags, spoil) => {
  const folder = join(base, what.replaceAll(' ', '-'));
  const bin = join(folder, '.build/bin');
  cpSync(PACKED, bin, { recursive: true });
  for (const name of ['package.json', 'content', 'templates', 'node_modules'])
    symlinkSync(join(PROJECT, name), join(folder, name));
  for (const name of codes(bin)) spoil(join(bin, name));
  const { version } = JSON.parse(readFileSync(join(PROJECT, 'package.json'), 'utf8'));
  expect(node(...flags, join(bin, 'standstill.js'), '--version').trim()).toBe(version);
});
