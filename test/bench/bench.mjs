/**
 * How long a log takes, against DuckDB in the same run: `npm run bench -- [ROWS…] [--times N]`, 1, 5 and 29 million rows
 * where none are named (29 million are 34 days at 10 Hz and take 2 GB of disk while it runs). Each way runs in a process
 * of its own, is timed from its start to its end, and the best of N (3) runs in turn counts. Not a test: nothing fails
 * when it is slow, only when the readers disagree on what is in the log.
 */
import { spawnSync } from 'node:child_process';
import { mkdtempSync, rmSync } from 'node:fs';
import { availableParallelism, cpus, tmpdir, totalmem } from 'node:os';
import { join } from 'node:path';
import { fileURLToPath } from 'node:url';
import { parseArgs } from 'node:util';
import { makeSession } from './make-log.mjs';

const WAYS = ['build', 'reader', 'duckdb'];
const ONE_WAY = fileURLToPath(new URL('one-way.mjs', import.meta.url));

const { values, positionals } = parseArgs({
  options: { times: { type: 'string', default: '3' } },
  allowPositionals: true,
});
const sizes = positionals.length > 0 ? positionals.map(Number) : [1e6, 5e6, 29e6];
const times = Number(values.times);
if (![...sizes, times].every((n) => Number.isInteger(n) && n > 0)) throw new Error('Rows and times are whole numbers.');

const say = (text) => process.stdout.write(`${text}\n`);
say(`${cpus()[0].model.trim()}, ${availableParallelism()} cores, ${Math.round(totalmem() / 2 ** 30)} GiB`);
say(`${process.platform} ${process.arch}, Node ${process.version}; best of ${times}\n`);
say('| rows | log | whole build | reader alone | DuckDB | build : DuckDB | build a row | peak, build | peak, DuckDB |');
say('| ---: | ---: | ---: | ---: | ---: | ---: | ---: | ---: | ---: |');
for (const rows of sizes) say(lineOf(rows));

function lineOf(rows) {
  const folder = mkdtempSync(join(tmpdir(), 'standstill-bench-'));
  try {
    const bytes = makeSession(folder, rows);
    const runs = Array.from({ length: times }, () => WAYS.map((way) => runOnce(way, folder)));
    const [build, reader, duckdb] = WAYS.map((_, w) => ({
      s: Math.min(...runs.map((run) => run[w].s)),
      peakBytes: Math.max(...runs.map((run) => run[w].peakBytes)),
      ...runs[0][w].found,
    }));
    expectSame(reader, duckdb, rows);
    const cells = [
      `${rows / 1e6} million`,
      `${Math.round(bytes / 1e6)} MB`,
      ...[build, reader, duckdb].map(({ s }) => `${s.toFixed(2)} s`),
      (build.s / duckdb.s).toFixed(2),
      `${((build.s / rows) * 1e9).toFixed(0)} ns`,
      ...[build, duckdb].map(({ peakBytes }) => `${Math.round(peakBytes / 1e6)} MB`),
    ];
    return `| ${cells.join(' | ')} |`;
  } finally {
    rmSync(folder, { recursive: true, force: true });
  }
}

function runOnce(way, folder) {
  // An unchanged session would not be built again.
  rmSync(join(folder, 'out'), { recursive: true, force: true });
  const began = process.hrtime.bigint();
  const { status, stdout, stderr } = spawnSync(process.execPath, [ONE_WAY, way, folder], { encoding: 'utf8' });
  const s = Number(process.hrtime.bigint() - began) / 1e9;
  if (status !== 0) throw new Error(`${way} failed: ${stderr}`);
  const { peakBytes, ...found } = JSON.parse(stdout.slice(stdout.lastIndexOf('{"')));
  return { s, peakBytes, found };
}

/** Sums differ in the order of adding. */
function expectSame(reader, duckdb, rows) {
  const alike = (a, b) => Math.abs(a - b) <= 1e-9 * Math.abs(b) + 1e-6;
  if (reader.rows === rows && duckdb.rows === rows && reader.sums.every((sum, k) => alike(sum, duckdb.sums[k]))) return;
  throw new Error(`The readers disagree: ${JSON.stringify({ reader, duckdb })}`);
}
