/** What `init` proposes to type must exist where it was typed. */
import { chmodSync, mkdirSync, mkdtempSync, rmSync, writeFileSync } from 'node:fs';
import { tmpdir } from 'node:os';
import { join } from 'node:path';
import { afterAll, expect, it } from 'vitest';
import { calledAs } from '../../src/cli/called.ts';

const root = mkdtempSync(join(tmpdir(), 'standstill-called-'));
afterAll(() => rmSync(root, { recursive: true }));
const platform = 'linux';

it('installed: by its name, where that is on the path', () => {
  writeFileSync(join(root, 'standstill'), '');
  chmodSync(join(root, 'standstill'), 0o755);
  expect(calledAs({ env: { PATH: `/nowhere:${root}` }, program: '/x/standstill.js', platform })).toBe('standstill');
  expect(calledAs({ env: { PATH: '/nowhere' }, program: '/x y/standstill.js', platform })).toBe(
    'node "/x y/standstill.js"',
  );
});

it('through npx: as npx was asked, in a clone or with a packed file', () => {
  expect(
    calledAs({ env: { npm_command: 'exec', PATH: '' }, program: '/clone/.build/bin/standstill.js', platform }),
  ).toBe('npx standstill');
  const cache = join(root, '_npx', '0a1b');
  mkdirSync(cache, { recursive: true });
  writeFileSync(join(cache, 'package.json'), JSON.stringify({ _npx: { packages: ['/tmp/standstill-0.1.0.tgz'] } }));
  const program = join(cache, 'node_modules', '.bin', 'standstill');
  expect(calledAs({ env: { npm_command: 'exec', PATH: '' }, program, platform })).toBe('npx /tmp/standstill-0.1.0.tgz');
});
