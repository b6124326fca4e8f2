import { execFileSync } from 'node:child_process';
import { mkdirSync, mkdtempSync, rmSync, symlinkSync, writeFileSync } from 'node:fs';
import { tmpdir } from 'node:os';
import { join } from 'node:path';
import { afterAll, expect, it } from 'vitest';
import { readRegular } from '../../../src/base/disk/read-regular.ts';

const folder = mkdtempSync(join(tmpdir(), 'standstill-regular-'));
afterAll(() => rmSync(folder, { recursive: true, force: true }));
const at = (name: string) => join(folder, name);

it('reads a file, and nothing else', async () => {
  writeFileSync(at('file'), 'text');
  mkdirSync(at('folder'));
  expect((await readRegular(at('file')))?.toString()).toBe('text');
  expect(await readRegular(at('folder'))).toBeNull();
  expect(await readRegular(at('none'))).toBeNull();
});

it.skipIf(process.platform === 'win32')('neither waits for a pipe nor follows a link', async () => {
  execFileSync('mkfifo', [at('pipe')]);
  writeFileSync(at('target'), 'elsewhere');
  symlinkSync(at('target'), at('link'));
  expect(await readRegular(at('pipe'))).toBeNull();
  expect(await readRegular(at('link'))).toBeNull();
});
