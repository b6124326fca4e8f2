// Do the tests notice a slip? `npm run mutants -- [from] [to]` makes each change of list.mjs in a copy of the project, runs the tests that
// should notice, and prints which survived. Numbers begin at 1; without any, all run. Where unit tests notice, no kept report is built; a
// mutant that names kept reports (`golden('sound')`) builds these alone.
import { cpSync, mkdtempSync, readFileSync, realpathSync, rmSync, symlinkSync, writeFileSync } from 'node:fs';
import { tmpdir } from 'node:os';
import { basename, join } from 'node:path';
import { fileURLToPath } from 'node:url';
import { createVitest } from 'vitest/node';
import { MUTANTS } from './list.mjs';

const project = fileURLToPath(new URL('../../', import.meta.url));
const [from = 1, to = MUTANTS.length] = process.argv.slice(2).map(Number);
const copy = realpathSync(mkdtempSync(join(tmpdir(), 'standstill-mutants-')));
process.on('exit', () => rmSync(copy, { recursive: true, force: true }));
for (const name of ['src', 'test', 'content', 'templates', 'package.json', 'tsconfig.json'])
  cpSync(join(project, name), join(copy, name), { recursive: true });
for (const name of ['node_modules', '.build']) symlinkSync(join(project, name), join(copy, name), 'junction');

// One Vitest for all: only what a change touches is read anew.
const vitest = await createVitest('test', {
  root: copy,
  config: join(copy, 'test', 'vitest.config.ts'),
  watch: false,
  maxWorkers: 1,
  reporters: [{}],
});
await vitest.standalone();

/** Whether the tests pass, the quick ones first. */
async function passes(tests, changed) {
  vitest.invalidateFile(changed);
  const unit = tests.filter((test) => typeof test === 'string');
  const golden = tests.filter((test) => typeof test !== 'string');
  if (unit.length > 0 && !(await pass(unit))) return false;
  return golden.length === 0 || pass([golden[0].file], `^kept reports (${golden.map(({ name }) => name).join('|')})$`);
}

async function pass(names, pattern) {
  const files = new Set(names.map((name) => join(copy, name)));
  const all = await vitest.globTestSpecifications(names);
  const asked = all.filter(({ moduleId }) => files.has(moduleId));
  if (asked.length !== files.size) throw new Error(`no such tests: ${names.join(' ')}`);
  if (pattern) vitest.setGlobalTestNamePattern(new RegExp(pattern));
  else vitest.resetGlobalTestNamePattern();
  const { testModules } = await vitest.runTestSpecifications(asked);
  const states = testModules.map((module) => ({
    name: basename(module.moduleId),
    tests: [...module.children.allTests()],
  }));
  const ran = states.every(({ tests }) =>
    tests.some((test) => test.result().state === 'passed' || test.result().state === 'failed'),
  );
  if (!ran) throw new Error(`no test ran in ${names.join(' ')}`);
  return testModules.every((module) => module.ok());
}

const chosen = MUTANTS.slice(from - 1, to);
// A test that fails without any change would kill them all.
const every = [...new Set(chosen.flatMap(([, , , tests]) => tests))];
if (!(await passes(every, copy))) throw new Error('a test fails without any change: mend that first');

const survivors = [];
let run = 0;
for (const [k, [file, before, after, tests]] of chosen.entries()) {
  const path = join(copy, 'src', file);
  const text = readFileSync(path, 'utf8');
  if (text.split(before).length !== 2) throw new Error(`${from + k}: ${file} does not hold this once: ${before}`);
  writeFileSync(
    path,
    text.replace(before, () => after),
  );
  const survived = await passes(tests, path);
  writeFileSync(path, text);
  vitest.invalidateFile(path);
  run++;
  const name = `${from + k} ${file}: ${before.trim()} → ${after.trim() || 'nothing'}`;
  if (survived) survivors.push(name);
  process.stdout.write(`${survived ? 'survived' : 'killed'}  ${name.replaceAll('\n', ' ')}\n`);
}
process.stdout.write(`\n${run - survivors.length} of ${run} killed\n`);
await vitest.close();
