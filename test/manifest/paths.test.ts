import { mkdirSync, mkdtempSync, rmSync, symlinkSync, writeFileSync } from 'node:fs';
import { tmpdir } from 'node:os';
import { dirname, join } from 'node:path';
import fc from 'fast-check';
import { afterAll, beforeAll, describe, expect, it } from 'vitest';
import { nodeFiles } from '../../src/base/disk/node-files.ts';
import { isDeviceName } from '../../src/manifest/device-name.ts';
import { findFile, findLogs, pathFault } from '../../src/manifest/paths.ts';

const NAMES = [
  'session.yaml',
  'log/b.csv',
  'log/a.CSV',
  'log/log10.csv',
  'log/log2.csv',
  'log/.hidden.csv',
  'log/day.tsv.gz',
  'log/deep/er/c.csv',
  'mixed/a.csv',
  'mixed/readme.md',
  'photo.jpg',
];

let base: string;
let folder: string;

beforeAll(() => {
  base = mkdtempSync(join(tmpdir(), 'standstill-paths-'));
  folder = join(base, 'session');
  for (const name of [...NAMES.map((name) => `session/${name}`), 'secret.csv', 'session-two/x.csv']) {
    mkdirSync(dirname(join(base, name)), { recursive: true });
    writeFileSync(join(base, name), name);
  }
});

afterAll(() => rmSync(base, { recursive: true }));

const logs = (pattern: string) => findLogs(folder, pattern, nodeFiles);

describe('pathFault', () => {
  it.each([
    '../secret.csv',
    'log/../../secret.csv',
    'log/..',
    '/etc/passwd',
    '//server/share/a.csv',
    '\\\\server\\share\\a.csv',
    'log\\a.csv',
    '..\\secret.csv',
    'C:/logs/a.csv',
    'c:a.csv',
    'log/a.csv:stream',
    'CON',
    'log/nul.csv',
    'aux.tar.gz/a.csv',
    'COM1 .csv',
    'lpt¹.csv',
    'log/a.csv.',
    'log /a.csv',
    'log/a\u0000.csv',
    'log/a\n.csv',
    'log/<a>.csv',
    '',
    '  ',
    '.',
    './/.',
    'a/'.repeat(400),
  ])('refuses %j', (path) => {
    expect(pathFault(path, true)).toMatch(/^Found /);
    expect(pathFault(path, false)).toMatch(/^Found /);
  });

  it.each(['log/a.csv', './log//a.csv', 'log/Überfahrt 2.csv', 'a..b.csv', 'console.csv', 'com10.csv', '-rf.csv'])(
    'takes %j',
    (path) => {
      expect(pathFault(path, false)).toBeUndefined();
    },
  );

  it('takes wildcards only in patterns', () => {
    expect(pathFault('log/*.csv', true)).toBeUndefined();
    expect(pathFault('photos/*.jpg', false)).toContain('"*.jpg" holds a character');
  });
});

it('isDeviceName knows the names that Windows keeps for itself', () => {
  expect(['con', 'NUL', 'Com1', 'lpt9.txt', 'prn ', 'aux.'].every(isDeviceName)).toBe(true);
  expect(['cone', 'com', 'com10', 'nul-1', 'harbour'].some(isDeviceName)).toBe(false);
});

describe('findFile', () => {
  it('finds a file and gives its plain path', () => {
    expect(findFile(folder, './log//b.csv', nodeFiles)).toEqual({ path: 'log/b.csv' });
  });

  it.each([
    ['log', 'it is a folder'],
    ['log/dai.tsv.gz', 'There is no file "log/dai.tsv.gz" in the session folder. Did you mean "log/day.tsv.gz"?'],
    ['log/b.csv/x', 'log/b.csv/x'],
    ['photos/a.jpg', 'There is no file'],
  ])('says what is wrong with %s', (path, message) => {
    expect(findFile(folder, path, nodeFiles)).toEqual({ fault: expect.stringContaining(message) });
  });
});

describe('findLogs', () => {
  it.each([
    ['log/*.csv', ['log/a.CSV', 'log/b.csv', 'log/log10.csv', 'log/log2.csv']],
    ['log/?.csv', ['log/a.CSV', 'log/b.csv']],
    ['LOG/B.csv', undefined],
    ['log/b.csv', ['log/b.csv']],
    ['*/*.gz', ['log/day.tsv.gz']],
    ['log/**/*.csv', ['log/a.CSV', 'log/b.csv', 'log/deep/er/c.csv', 'log/log10.csv', 'log/log2.csv']],
    ['**/c.csv', ['log/deep/er/c.csv']],
    ['**/er/*', ['log/deep/er/c.csv']],
  ])('%s', (pattern, paths) => {
    if (paths === undefined) expect(logs(pattern).faults).toHaveLength(1);
    else expect(logs(pattern)).toEqual({ paths, faults: [] });
  });

  it('names what else a pattern matches instead of passing over it', () => {
    expect(logs('mixed/*').faults).toEqual([
      expect.stringContaining('also matches what is not a log: "mixed/readme.md"'),
    ]);
    expect(logs('mixed/*').paths).toEqual([]);
  });

  it('says when nothing matches, and what is there', () => {
    expect(logs('log/*.txt').faults).toEqual([
      expect.stringContaining('"log/*.txt" matches no file in the session folder. There is "log/'),
    ]);
    expect(logs('logs/*.csv').faults).toEqual(['"logs/*.csv" matches no file in the session folder.']);
    expect(logs('photo.jpg').faults).toEqual([expect.stringContaining('"photo.jpg" is not a log.')]);
  });

  it('no pattern is slow', () => {
    const start = performance.now();
    logs(`log/${'*a'.repeat(200)}*b.csv`);
    logs(`${'**/'.repeat(100)}x.csv`);
    expect(performance.now() - start).toBeLessThan(1000);
  });
});

describe.skipIf(process.platform === 'win32')('links', () => {
  beforeAll(() => {
    symlinkSync(join(base, 'secret.csv'), join(folder, 'log', 'link.csv'));
    symlinkSync(join(base, 'session-two'), join(folder, 'elsewhere'));
    symlinkSync(folder, join(folder, 'log', 'deep', 'loop'));
    symlinkSync('circle.csv', join(folder, 'circle.csv'));
    symlinkSync('b.csv', join(folder, 'log', 'inside.csv'));
  });

  it.each(['log/link.csv', 'elsewhere/x.csv', 'elsewhere/*.csv', 'circle.csv'])('%s may not be followed', (path) => {
    expect(logs(path).paths).toEqual([]);
    expect(logs(path).faults).toHaveLength(1);
  });

  it('the names behind a link are not told', () => {
    expect(logs('elsewhere/*.txt').faults).toEqual(['"elsewhere" cannot be used: it is reached by a link.']);
  });

  it('one bad link among the matches is named', () => {
    expect(logs('log/l*.csv')).toEqual({
      paths: [],
      faults: ['"log/link.csv" cannot be used: a link in it leads out of the session folder.'],
    });
  });

  it('a link that stays inside is a file like others', () => {
    expect(logs('log/inside.csv').paths).toEqual(['log/inside.csv']);
  });

  it('"**" does not run in circles', () => {
    expect(logs('**/c.csv').paths).toEqual(['log/deep/er/c.csv']);
  });
});

it('whatever a manifest names, no file outside is found', () => {
  const part = fc.constantFrom(
    '..',
    '.',
    'log',
    'secret.csv',
    'session-two',
    'x.csv',
    '*',
    '**',
    '*.csv',
    'b.csv',
    'C:',
    '',
  );
  const glue = fc.constantFrom('/', '\\', '//');
  const path = fc.array(fc.tuple(part, glue), { maxLength: 6 }).map((parts) => parts.flat().join(''));
  fc.assert(
    fc.property(path, (pattern) => {
      for (const found of logs(pattern).paths) expect(NAMES).toContain(found);
    }),
    { numRuns: 300 },
  );
});
