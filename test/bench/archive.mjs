/**
 * How long an archive takes: `npm run bench:archive -- [--sessions 200] [--rows 100000] [--jobs 2]`. Times a first build
 * without PDF, a second one with one changed log, and the PDFs alone, these against the bare browser printing the same
 * pages, two at once as we do, in the same run. Each build is a process of its own, from its start to its end. Not a
 * test: nothing fails when it is slow, only when a build made more or less than it should.
 */
import { spawnSync } from 'node:child_process';
import { appendFileSync, mkdtempSync, readdirSync, readFileSync, rmSync, statSync } from 'node:fs';
import { availableParallelism, cpus, tmpdir, totalmem } from 'node:os';
import { join } from 'node:path';
import { fileURLToPath, pathToFileURL } from 'node:url';
import { parseArgs } from 'node:util';
import { makeSession } from './make-log.mjs';

const BUILD = new URL('../../.build/', import.meta.url);
const ours = (path) => import(new URL(path, BUILD).href);
const CLI = fileURLToPath(new URL('bin/standstill.js', BUILD));
/** Sessions of one vehicle. */
const VISITS = 4;
const AT_ONCE = 2;
const TURNS = 2;

const { values } = parseArgs({
  options: {
    sessions: { type: 'string', default: '200' },
    rows: { type: 'string', default: '100000' },
    jobs: { type: 'string', default: String(availableParallelism()) },
  },
});
const [sessions, rows, jobs] = [values.sessions, values.rows, values.jobs].map(Number);
if (![sessions, rows, jobs].every((n) => Number.isInteger(n) && n > 0)) throw new Error('Whole numbers are taken.');

const say = (text) => process.stdout.write(`${text}\n`);
const work = mkdtempSync(join(tmpdir(), 'standstill-bench-archive-'));
const out = join(work, 'out');
try {
  await measure();
} finally {
  rmSync(work, { recursive: true, force: true });
}

async function measure() {
  say(`${cpus()[0].model.trim()}, ${availableParallelism()} cores, ${Math.round(totalmem() / 2 ** 30)} GiB`);
  say(
    `${process.platform} ${process.arch}, Node ${process.version}; ${sessions} sessions of ${rows} rows, ${jobs} jobs\n`,
  );
  const folders = Array.from({ length: sessions }, (_, k) => join(work, `bench-${k}`));
  for (const [k, folder] of folders.entries())
    makeSession(folder, rows, { id: `bench-${k}`, registration: `B-${Math.floor(k / VISITS)}`, perS: 1, noise: k + 1 });

  const first = build(folders, '--no-pdf');
  expectMade(first, sessions);
  const same = build(folders, '--no-pdf');
  expectMade(same, 0);
  addRow(join(folders[sessions >> 1], 'log.csv'));
  const second = build(folders, '--no-pdf');
  expectMade(second, 1);
  const printing = build(folders);
  expectMade(printing, 0);
  const pages = folders.map((_, k) => join(out, 'sessions', `bench-${k}`, 'index.html'));
  const prints = await printBoth(pages);

  const share = (part, whole) => `${((100 * part) / whole).toFixed(1)} %`;
  say('| what | time | |');
  say('| --- | ---: | ---: |');
  say(`| first build, no PDF | ${first.s.toFixed(1)} s | |`);
  say(`| second, nothing changed | ${same.s.toFixed(2)} s | ${share(same.s, first.s)} of the first |`);
  say(`| second, one log changed | ${second.s.toFixed(2)} s | ${share(second.s, first.s)} of the first |`);
  say(`| the PDFs, by \`build\` | ${printing.s.toFixed(1)} s | ${(sessions / printing.s).toFixed(2)} a second |`);
  say(
    `| the same pages, our printer | ${prints.ours.toFixed(1)} s | ${share(prints.bare, prints.ours)} of the bare browser's rate |`,
  );
  say(
    `| the same pages, the bare browser | ${prints.bare.toFixed(1)} s | ${(sessions / prints.bare).toFixed(2)} a second |`,
  );
}

/** A second after the last. */
function addRow(log) {
  const last = readFileSync(log, 'utf8').trimEnd().split('\n').at(-1);
  const [time, ...readings] = last.split(',');
  appendFileSync(log, `${[new Date(Date.parse(time) + 1000).toISOString(), ...readings].join(',')}\n`);
}

/** `s` from the process's start to its end; `made`: reports that are newer than its start. */
function build(folders, ...words) {
  const beganMs = Date.now();
  const began = process.hrtime.bigint();
  const args = [CLI, 'build', ...folders, '--out', out, '--jobs', String(jobs), '--quiet', ...words];
  const { status, stderr } = spawnSync(process.execPath, args, { encoding: 'utf8' });
  const s = Number(process.hrtime.bigint() - began) / 1e9;
  if (status !== 0) throw new Error(`The build failed: ${stderr}`);
  const reports = readdirSync(join(out, 'sessions')).map((id) => join(out, 'sessions', id, 'report.json'));
  return { s, made: reports.filter((path) => statSync(path).mtimeMs >= beganMs).length };
}

function expectMade({ made }, expected) {
  if (made !== expected) throw new Error(`${made} reports were made, not ${expected}.`);
}

/** Best of `TURNS` each, in turn, s; both browsers, the same one with the same arguments, are started before. */
async function printBoth(paths) {
  const { openPrinter } = await ours('report/pdf/browser.js');
  const printer = await openPrinter();
  const { browser, stop } = await bareBrowser();
  const tabs = await Promise.all(Array.from({ length: AT_ONCE }, () => browser.newPage()));
  const ways = {
    ours: (path) => printer.print({ name: path, html: readFileSync(path, 'utf8'), pageSize: 'a4', dateMs: 0 }),
    bare: async (path, k) => {
      await tabs[k].goto(pathToFileURL(path).href, { waitUntil: 'load' });
      await tabs[k].pdf({ preferCSSPageSize: true, printBackground: true, tagged: true, outline: true });
    },
  };
  const times = { ours: [], bare: [] };
  try {
    for (let turn = 0; turn < TURNS; turn++)
      for (const [name, print] of Object.entries(ways)) times[name].push(await timed(paths, print));
  } finally {
    await printer.close();
    await stop();
  }
  return { ours: Math.min(...times.ours), bare: Math.min(...times.bare) };
}

/** The first that starts, as our printer chooses it. */
async function bareBrowser() {
  const [{ findBrowsers, thisHost }, { startBrowser }, { embeddedBrowser }] = await Promise.all(
    ['find', 'start', 'embedded'].map((name) => ours(`report/pdf/browser-${name}.js`)),
  );
  const host = thisHost();
  for (const { path } of findBrowsers(host).candidates) {
    const program = path === undefined ? await embeddedBrowser(host) : { path, env: {} };
    const running = await startBrowser(program, host, 60_000).catch(() => null);
    if (running) return running;
  }
  throw new Error('There is no browser to print with.');
}

/** s in which all are printed, `AT_ONCE` side by side. */
async function timed(paths, print) {
  const began = process.hrtime.bigint();
  const left = [...paths];
  const work = async (k) => {
    for (let path = left.shift(); path !== undefined; path = left.shift()) await print(path, k);
  };
  await Promise.all(Array.from({ length: AT_ONCE }, (_, k) => work(k)));
  return Number(process.hrtime.bigint() - began) / 1e9;
}
