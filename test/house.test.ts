/** The house is walked one way: what lint cannot see of it. Sources are read, nothing is run. */
import { readdirSync, readFileSync } from 'node:fs';
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
  'archive',
  'demo',
  'cli',
  'desk',
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
