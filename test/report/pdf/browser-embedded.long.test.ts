import { execFileSync } from 'node:child_process';
import {
  chmodSync,
  existsSync,
  mkdirSync,
  mkdtempSync,
  readdirSync,
  rmSync,
  statSync,
  symlinkSync,
  truncateSync,
  utimesSync,
  writeFileSync,
} from 'node:fs';
import { tmpdir } from 'node:os';
import { dirname, join } from 'node:path';
import { afterAll, beforeAll, describe, expect, test } from 'vitest';
import { embeddedBrowser } from '../../../src/report/pdf/browser-embedded.ts';
import { thisHost } from '../../../src/report/pdf/browser-find.ts';

const offered = process.platform === 'linux' && process.arch === 'x64' && thisHost().embeddedPackage !== undefined;

describe.skipIf(!offered)('the embedded browser (linux x64 with its optional package)', () => {
  let home: string;
  const host = () => ({ ...thisHost(), env: { HOME: home, PATH: process.env.PATH }, tmp: join(home, 'tmp') });
  const cache = () => join(home, '.cache', 'standstill');

  beforeAll(() => {
    home = mkdtempSync(join(tmpdir(), 'embedded-'));
    mkdirSync(join(home, 'tmp'));
  });
  afterAll(() => rmSync(home, { recursive: true, force: true }));

  test('three first runs at once all get it, and only one folder is left', async () => {
    const before = { ...process.env };
    const [first, ...others] = await Promise.all([1, 2, 3].map(() => embeddedBrowser(host())));
    expect(others).toEqual([first, first]);
    expect(readdirSync(cache())).toEqual([expect.stringMatching(/^browser-\d+\.\d+\.\d+$/)]);
    expect(statSync(cache()).mode & 0o777).toBe(0o700);
    expect(statSync(dirname(first.path)).mode & 0o777).toBe(0o700);
    expect(process.env).toEqual(before);
  });

  test('it takes NSS, NSPR and expat from its own folder, so that the system needs none', async () => {
    const { path, env } = await embeddedBrowser(host());
    const resolved = execFileSync('ldd', [path], { env: { PATH: process.env.PATH, ...env }, encoding: 'utf8' });
    expect(resolved).not.toContain('not found');
    const foreign = resolved
      .split('\n')
      .filter((line) => line.includes('=> /') && !line.includes(dirname(path)))
      .map((line) => line.trim().split(' ')[0]);
    // What is left comes with every Debian: the C library and the compiler's run-time.
    expect(foreign.filter((name) => !/^lib(c|m|dl|pthread|rt|gcc_s)\.so/.test(name))).toEqual([]);
  });

  test('a folder with a file cut short or gone is unpacked again', async () => {
    const { path } = await embeddedBrowser(host());
    const bytes = statSync(path).size;
    truncateSync(path, 1000);
    await embeddedBrowser(host());
    expect(statSync(path).size).toBe(bytes);

    rmSync(join(dirname(path), 'al2023', 'lib', 'libnss3.so'));
    await embeddedBrowser(host());
    expect(existsSync(join(dirname(path), 'al2023', 'lib', 'libnss3.so'))).toBe(true);
    expect(existsSync(join(dirname(path), 'damaged'))).toBe(false);
  });

  test('a lock and parts that a killed run left long ago stop nobody and are removed', async () => {
    const { path } = await embeddedBrowser(host());
    const lost = [`${dirname(path)}.lock`, join(cache(), 'unpacking-lost')];
    writeFileSync(lost[0], '');
    mkdirSync(lost[1]);
    for (const left of lost) utimesSync(left, 0, 0);
    rmSync(path);
    await embeddedBrowser(host());
    expect(existsSync(path)).toBe(true);
    expect(lost.filter((left) => existsSync(left))).toEqual([]);
  });

  test('a cache folder that is a link to somewhere else is not used', async () => {
    const other = join(home, 'other-home');
    const trap = join(home, 'trap');
    mkdirSync(join(other, '.cache'), { recursive: true });
    mkdirSync(trap);
    symlinkSync(trap, join(other, '.cache', 'standstill'));
    const tmp = join(home, 'tmp');
    const { path } = await embeddedBrowser({ ...host(), env: { HOME: other, PATH: process.env.PATH } });
    expect(path.startsWith(join(tmp, `standstill-${process.getuid?.()}`))).toBe(true);
    expect(readdirSync(trap)).toEqual([]);
  });

  test('no private folder anywhere: told in plain words', async () => {
    const blocked = join(home, 'a-file');
    writeFileSync(blocked, '');
    chmodSync(blocked, 0o600);
    await expect(embeddedBrowser({ ...host(), env: { HOME: blocked }, tmp: blocked })).rejects.toThrow(
      /could be made private/,
    );
  });
});
