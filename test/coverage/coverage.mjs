// Does value ± U hold the truth? `npm run coverage -- 200 0 --keep FILE` sends vehicles 0 to 199 through the program to report.json and counts.
// With `--keep` each vehicle's rows are added to FILE, those that are there already are not made again, and the table is of all: a long
// run can go in pieces (`--for 300` ends one after so many seconds). `--worst NAME` prints the rows of a value, worst first.
import { appendFileSync, createWriteStream, existsSync, mkdtempSync, readFileSync, rmSync } from 'node:fs';
import { mkdir, writeFile } from 'node:fs/promises';
import { tmpdir } from 'node:os';
import { join } from 'node:path';
import { parseArgs } from 'node:util';
import { writeSession } from '../../.build/demo/write-session.js';
import { analyse, buildReport, contentOf, readSession, runChecks } from '../../.build/index.js';
import { compared, makeMeter } from './compare.mjs';
import { STYLES, styleOf, vehicle } from './vehicles.mjs';

const { values: options, positionals } = parseArgs({
  allowPositionals: true,
  options: { keep: { type: 'string' }, for: { type: 'string', default: 'Infinity' }, worst: { type: 'string' } },
});
const [count = 24, from = 0] = positionals.map(Number);
const started = Date.now();
const content = contentOf('en');
const disk = { makeFolder: (path) => mkdir(path, { recursive: true }), writeText: writeFile, createWriteStream };

async function measured(number) {
  const folder = mkdtempSync(join(tmpdir(), 'standstill-coverage-'));
  try {
    const meter = makeMeter();
    const made = vehicle(number);
    const truth = await writeSession(folder, made, disk, meter.watch);
    const session = readSession(folder);
    const analysis = await analyse(session);
    const report = buildReport({ session, analysis, findings: runChecks(analysis, session) }, content);
    return compared(report, truth, made.scenario, meter);
  } finally {
    rmSync(folder, { recursive: true, force: true });
  }
}

const kept = options.keep && existsSync(options.keep) ? readFileSync(options.keep, 'utf8').trim().split('\n') : [];
const done = new Map(
  kept
    .filter(Boolean)
    .map((line) => JSON.parse(line))
    .map(({ number, rows }) => [number, rows]),
);
for (let number = from; number < from + count; number++) {
  if (done.has(number)) continue;
  if (Date.now() - started > Number(options.for) * 1000) break;
  const rows = await measured(number);
  done.set(number, rows);
  if (options.keep) appendFileSync(options.keep, `${JSON.stringify({ number, rows })}\n`);
}

const styles = Object.keys(STYLES);
const all = [...done].flatMap(([number, rows]) =>
  rows.map(([name, value, U, truly]) => ({ number, name, style: styleOf(number), value, U, truly })),
);
const names = [...new Set(all.map(({ name }) => name))];
const share = (rows) => {
  if (rows.length === 0) return '';
  const holds = rows.filter(({ value, U, truly }) => Math.abs(value - truly) <= U).length;
  return `${Math.round((100 * holds) / rows.length)} % (${rows.length})`;
};
/** Root of the mean square. */
const rms = (rows, of) => Math.sqrt(rows.reduce((sum, row) => sum + of(row) ** 2, 0) / rows.length);

const lines = [`${done.size} vehicles:`, '', `| value | ${styles.join(' | ')} | all | U ÷ error |`];
lines.push(`| --- |${' ---: |'.repeat(styles.length + 2)}`);
for (const name of names) {
  const rows = all.filter((row) => row.name === name);
  const ratio = rms(rows, ({ U }) => U) / rms(rows, ({ value, truly }) => value - truly);
  const cells = styles.map((style) => share(rows.filter((row) => row.style === style)));
  lines.push(`| ${[name, ...cells, share(rows), ratio.toFixed(1)].join(' | ')} |`);
}
process.stdout.write(`${lines.join('\n')}\n`);

if (options.worst) {
  const rows = all.filter(({ name }) => name.startsWith(options.worst));
  rows.sort((a, b) => Math.abs(b.value - b.truly) / b.U - Math.abs(a.value - a.truly) / a.U);
  for (const { number, style, value, U, truly } of rows.slice(0, 40))
    process.stdout.write(`${number}\t${style}\t${value}\t± ${U}\t${truly}\t${((value - truly) / U).toFixed(2)}\n`);
}
