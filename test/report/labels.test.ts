import { readdirSync, readFileSync } from 'node:fs';
import { join } from 'node:path';
import { expect, test } from 'vitest';
import { parse } from 'yaml';
import { loadContent } from '../../src/node/content.ts';
import { flatten } from '../../src/report/words/content.ts';

const root = join(import.meta.dirname, '../..');
const sources = ['src', 'templates']
  .flatMap((folder) =>
    readdirSync(join(root, folder), { recursive: true, encoding: 'utf8' }).map((f) => join(folder, f)),
  )
  .filter((file) => /\.(ts|hbs)$/.test(file))
  .map((file) => readFileSync(join(root, file), 'utf8'));
/** Every key, or part of one, that code or a template writes; `#` marks a column of numbers. */
const written = new Set(
  sources.flatMap((source) => [...source.matchAll(/(['"`])([\w/-]+(?:\.[\w/-]+)*)#?\1/g)].map(([, , name]) => name)),
);

test('labels.yaml has no word whose name nobody writes', () => {
  const keys = [...flatten(parse(loadContent('en').text('labels.yaml'))).keys()];
  expect(keys.length).toBeGreaterThan(200);
  // A key may be built of parts, such as `status` and the status of a finding.
  const isUsed = (key: string) =>
    written.has(key) || written.has(key.slice(key.indexOf('.') + 1)) || written.has(key.split('.').at(-1) ?? '');
  expect(keys.filter((key) => !isUsed(key))).toEqual([]);
});
