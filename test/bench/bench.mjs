/**
 * How long a log takes, against DuckDB in the same run: `npm run bench -- [ROWS…] [--times N] [--per-second 100] [--packed]`. Where no rows
 * are named: 0.3, 1, 4, 5 and 29 million at 10 Hz, then 4 million packed with gzip, and 4 million at 100 Hz (29 million are 34 days at 10 Hz
 * and take 2 GB of disk while it runs). Each way runs in a process
 * of its own, is timed from its start to its end, and the best of N (3) runs in turn counts. Not a test: nothing fails
 * when it is slow, only when the readers disagree on what is in the log.
 */
import { spawnSync } from 'node:child_process';
import {
  createReadStream,
  createWriteStream,
  mkdtempSync,
  readFileSync,
  rmSync,
  statSync,
  writeFileSync,
} from 'node:fs';
import { availableParallelism, cpus, tmpdir, totalmem } from 'node:os';
import { join } from 'node:path';
import { pipeline } from 'node:stream/promises';
import { fileURLToPath } from 'node:url';
import { parseArgs } from 'node:util';
import { createGzip } from 'node:zlib';
import { makeSession } from './make-log.mjs';

const WAYS = ['build', 'reader', 'duckdb'];
const ONE_WAY = fileURLToPath(new URL('one-way.mjs', import.meta.url));

const { values, positionals } = parseArgs({
  options: {
    times: { type: 'string', default: '3' },
    'per-second': { type: 'string', default: '10' },
    packed: { type: 'boolean', default: false },
  },
  allowPositionals: true,
});
const [times, perS] = [values.times, values['per-second']].map(Number);
const logs =
  positionals.length > 0
    ? positionals.map((rows) => ({ rows: Number(rows), perS, packed: values.packed }))
    : [
        ...[3e5, 1e6, 4e6, 5e6, 29e6].map((rows) => ({ rows, perS: 10, packed: false })),
        { rows: 4e6, perS: 10, packed: true },
        { rows: 4e6, perS: 100, packed: false },
      ];
if (![...logs.map(({ rows }) => rows), times, perS].every((n) => Number.isInteger(n) && n > 0))
  throw new Error('Rows, times and rows a second are whole numbers.');

const say = (text) => process.stdout.write(`${text}\n`);
say(`${cpus()[0].model.trim()}, ${availableParallelism()} cores, ${Math.round(totalmem() / 2 ** 30)} GiB`);
say(`${process.platform} ${process.arch}, Node ${process.version}; best of ${times}\n`);
say('| rows | log | whole build | reader alone | DuckDB | build : DuckDB | build a row | peak, build | peak, DuckDB |');
say('| ---: | ---: | ---: | ---: | ---: | ---: | ---: | ---: | ---: |');
for (const log of logs) say(await lineOf(log));

async function lineOf({ rows, perS, packed }) {
  const folder = mkdtempSync(join(tmpdir(), 'standstill-bench-'));
  try {
    makeSession(folder, rows, { perS });
    const name = packed ? await pack(folder) : 'log.csv';
    const { size } = statSync(join(folder, name));
    const runs = Array.from({ length: times }, () => WAYS.map((way) => runOnce(way, folder)));
    const [build, reader, duckdb] = WAYS.map((_, w) => ({
      s: Math.min(...runs.map((run) => run[w].s)),
      peakBytes: Math.max(...runs.map((run) => run[w].peakBytes)),
      ...runs[0][w].found,
    }));
    expectSame(reader, duckdb, rows);
    const cells = [
      `${rows / 1e6} million${perS === 10 ? '' : `, ${perS} Hz`}${packed ? ', packed' : ''}`,
      `${Math.round(size / 1e6)} MB`,
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

/** The log's name when it is packed. */
async function pack(folder) {
  const [log, manifest] = ['log.csv', 'session.yaml'].map((name) => join(folder, name));
  await pipeline(createReadStream(log), createGzip({ level: 6 }), createWriteStream(`${log}.gz`));
  rmSync(log);
  writeFileSync(manifest, readFileSync(manifest, 'utf8').replace('log.csv', 'log.csv.gz'));
  return 'log.csv.gz';
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
