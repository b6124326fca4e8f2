/** The compiler asks whether an entry is there, but in files that loop over columns of numbers, which know their bounds. */
import { spawnSync } from 'node:child_process';
import { readFileSync } from 'node:fs';
import { join, resolve } from 'node:path';
import { expect, test } from 'vitest';

const SRC = resolve(import.meta.dirname, '../src');

/** The simulation steps through a plan and columns of its own making. */
const COLUMNS = ['demo'];
/** In these the files that have columns, by what they name: a loop over them knows its bounds. And a few that loop over places, points or segments. */
const WITH_COLUMNS = ['battery', 'log', 'analysis', 'measures', 'charts'];
const HAS_COLUMNS = /\btiles\b|\b(?:Float64|Int32|Uint8)Array\b|\b(?:SampleBlock|RawRows)\b/;
const LOOPS = [
  'analysis/states/look-ahead.ts',
  'battery/interpolation.ts',
  'battery/rest-voltage.ts',
  'charts/drawing/thinned.ts',
  'log/long/long-input.ts',
  'measures/wakes/patterns.ts',
  'measures/wakes/wake-charge-u.ts',
  'measures/wakes/wake-clocks.ts',
  'measures/wakes/wake-groups.ts',
  'measures/wakes/wake-parts.ts',
];
const knowsItsBounds = (file: string) => {
  const [room = ''] = file.split('/');
  if (COLUMNS.includes(room) || LOOPS.includes(file)) return true;
  return WITH_COLUMNS.includes(room) && HAS_COLUMNS.test(readFileSync(join(SRC, file), 'utf8'));
};

test('whoever loops over no columns asks whether an entry is there', () => {
  const tsc = resolve(SRC, '../node_modules/typescript/bin/tsc');
  const asked = ['--noEmit', '--noUncheckedIndexedAccess', '--pretty', 'false'];
  const said = ['src', 'src/desk'].map((project) => {
    const run = spawnSync(process.execPath, [tsc, '-p', project, ...asked], {
      cwd: resolve(SRC, '..'),
      encoding: 'utf8',
    });
    return run.stdout;
  });
  const faults = said
    .flatMap((text) => text.split('\n'))
    .filter((line) => /^src\/.*error TS/.test(line) && !knowsItsBounds(/^src\/([^(]+)\(/.exec(line)?.[1] ?? ''));
  expect(said[0]).toContain('TS2532');
  expect([...new Set(faults)]).toEqual([]);
});
