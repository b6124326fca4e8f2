// Do the tests notice a slip? `npm run mutants -- [from] [to]` makes each change of list.mjs in a copy of the project, runs the tests that
// should notice, and prints which survived. Numbers begin at 1; without any, all run.
import { spawnSync } from 'node:child_process';
import { cpSync, mkdtempSync, readFileSync, rmSync, symlinkSync, writeFileSync } from 'node:fs';
import { tmpdir } from 'node:os';
import { join } from 'node:path';
import { fileURLToPath } from 'node:url';
import { MUTANTS } from './list.mjs';

const project = fileURLToPath(new URL('../../', import.meta.url));
const [from = 1, to = MUTANTS.length] = process.argv.slice(2).map(Number);
const copy = mkdtempSync(join(tmpdir(), 'standstill-mutants-'));
process.on('exit', () => rmSync(copy, { recursive: true, force: true }));
for (const name of ['src', 'test', 'content', 'templates', 'package.json', 'tsconfig.json'])
  cpSync(join(project, name), join(copy, name), { recursive: true });
for (const name of ['node_modules', '.build']) symlinkSync(join(project, name), join(copy, name), 'junction');

/** Whether the tests pass, the first failure ends them. */
function passes(tests) {
  const vitest = join(copy, 'node_modules', 'vitest', 'vitest.mjs');
  const args = [
    'run',
    '--config',
    'test/vitest.config.ts',
    '--root',
    '.',
    '--bail=1',
    '--maxWorkers=1',
    '--reporter=dot',
  ];
  const { status, stdout } = spawnSync(process.execPath, [vitest, ...args, ...tests], { cwd: copy, encoding: 'utf8' });
  if (!/Tests .*(passed|failed)/.test(stdout))
    throw new Error(`the tests did not run: ${tests.join(' ')}\n${stdout.slice(-800)}`);
  return status === 0;
}

const survivors = [];
let run = 0;
for (const [k, [file, before, after, tests]] of MUTANTS.entries()) {
  if (k + 1 < from || k + 1 > to) continue;
  const path = join(copy, 'src', file);
  const text = readFileSync(path, 'utf8');
  if (text.split(before).length !== 2) throw new Error(`${k + 1}: ${file} does not hold this once: ${before}`);
  writeFileSync(
    path,
    text.replace(before, () => after),
  );
  const survived = passes(tests);
  writeFileSync(path, text);
  run++;
  const name = `${k + 1} ${file}: ${before.trim()} → ${after.trim() || 'nothing'}`;
  if (survived) survivors.push(name);
  process.stdout.write(`${survived ? 'survived' : 'killed'}  ${name.replaceAll('\n', ' ')}\n`);
}
process.stdout.write(`\n${run - survivors.length} of ${run} killed\n`);
