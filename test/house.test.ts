/** The house is walked one way: what lint cannot see of it. Sources are read, nothing is run. */
import { existsSync, readdirSync, readFileSync } from 'node:fs';
import { dirname, join, relative, resolve, sep } from 'node:path';
import { expect, test } from 'vitest';

const SRC = resolve(import.meta.dirname, '../src');
/** From the top of the street down; doors last. */
const STREET = [
  'base',
  'battery',
  'manifest',
  'log',
  'analysis',
  'measures',
  'checks',
  'charts',
  'report',
  'node',
  'archive',
  'demo',
  'desk',
  'cli',
];

const files = readdirSync(SRC, { recursive: true, encoding: 'utf8' })
  .filter((file) => file.endsWith('.ts') && !file.includes('assembly'))
  .map((file) => join(SRC, file));
/** Types count too: who reads one file needs the other. */
const imports = new Map(
  files.map((file) => [
    file,
    [...readFileSync(file, 'utf8').matchAll(/(?:\bfrom|\bimport\()\s*'(\.[^']+)'/g)].map(([, to]) =>
      resolve(dirname(file), to ?? ''),
    ),
  ]),
);
const named = (file: string) => relative(SRC, file).split(sep).join('/');
const roomOf = (file: string) => STREET.indexOf(named(file).split('/')[0] ?? '');

test('no room imports from one below it', () => {
  const up = files.flatMap((file) =>
    (imports.get(file) ?? [])
      .filter((to) => roomOf(file) >= 0 && roomOf(to) > roomOf(file))
      .map((to) => `${named(file)} imports ${named(to)}`),
  );
  expect(up).toEqual([]);
});

test('no file imports itself by way of others', () => {
  const done = new Set<string>();
  const circles: string[] = [];
  function walk(file: string, path: readonly string[]): void {
    const at = path.indexOf(file);
    if (at >= 0) circles.push([...path.slice(at), file].map(named).join(' > '));
    if (at >= 0 || done.has(file)) return;
    for (const to of imports.get(file) ?? []) walk(to, [...path, file]);
    done.add(file);
  }
  for (const file of files) walk(file, []);
  expect(circles).toEqual([]);
});

test('a check asks measures, and no other check', () => {
  const isCheck = (file: string) =>
    /^checks\//.test(named(file)) && /export const check\b/.test(readFileSync(file, 'utf8'));
  const checks = files.filter(isCheck);
  expect(checks.length).toBeGreaterThan(20);
  const asking = checks.flatMap((file) =>
    (imports.get(file) ?? []).filter((to) => checks.includes(to)).map((to) => `${named(file)} asks ${named(to)}`),
  );
  expect(asking).toEqual([]);
});

test('checks look at no tiles: measures do', () => {
  const looking = files.filter(
    (file) => named(file).startsWith('checks/') && /\banalysis\.tiles\b|\/tiles\//.test(readFileSync(file, 'utf8')),
  );
  expect(looking.map(named)).toEqual([]);
});

test('no report rests on what engines work out differently: rootOfSquares stands for Math.hypot', () => {
  const resting = files.filter(
    (file) => !named(file).startsWith('demo/') && readFileSync(file, 'utf8').includes('Math.hypot('),
  );
  expect(resting.map(named)).toEqual([]);
});

const folders = [...new Set(files.map((file) => dirname(file)))].filter((folder) => folder !== SRC);
const MENTIONED = /`([\w./-]+\.ts)`/g;

test.each(folders.map(named))(
  '%s says in a README what goes in and out, and names only files that are there',
  (room) => {
    const text = readFileSync(join(SRC, room, 'README.md'), 'utf8');
    for (const [, file = ''] of text.matchAll(MENTIONED)) {
      const places = [join(SRC, room, file), join(SRC, file)];
      expect(
        places.some((place) => existsSync(place)),
        `${room}/README.md names ${file}`,
      ).toBe(true);
    }
  },
);

test('the handbook for contributors names only files that are there', () => {
  const text = readFileSync(resolve(SRC, '../DEVELOPERS.md'), 'utf8');
  const mentioned = [...text.matchAll(/`((?:[\w-]+\/)+[\w.-]+\.(?:ts|md|hbs|js|mjs|sh))`/g)].map(
    ([, file = '']) => file,
  );
  expect(mentioned.length).toBeGreaterThan(30);
  const missing = mentioned.filter(
    (file) => !/NAME|LANGUAGE/.test(file) && !existsSync(join(SRC, file)) && !existsSync(resolve(SRC, '..', file)),
  );
  expect(missing).toEqual([]);
});
