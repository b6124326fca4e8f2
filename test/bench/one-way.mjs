/**
 * One way to go through a log, in a process of its own: `node one-way.mjs build|reader|duckdb FOLDER`. Prints, as JSON,
 * rows, the sum of every column (so that nobody gets by without having the numbers), and the process's peak memory.
 */
import { once } from 'node:events';
import { existsSync } from 'node:fs';
import { join } from 'node:path';
import { COLUMNS } from './make-log.mjs';

const BUILD = new URL('../../.build/', import.meta.url);
const ours = (path) => import(new URL(path, BUILD).href);

const WAYS = {
  /** `standstill build --no-pdf`, as a user calls it. */
  async build(folder) {
    process.argv.splice(
      2,
      Number.POSITIVE_INFINITY,
      'build',
      folder,
      '--out',
      join(folder, 'out'),
      '--no-pdf',
      '--quiet',
    );
    await ours('bin/standstill.js');
    // It ends when it has nothing left to do.
    await once(process, 'beforeExit');
    if (process.exitCode !== 0) throw new Error(`build ended with ${process.exitCode}`);
    return {};
  },

  /** Our reader alone: every sample in order of time, in SI, as typed arrays. */
  async reader(folder) {
    const { readSession, resolveLogFiles } = await ours('manifest/read-session.js');
    const { nodeFiles } = await ours('base/disk/node-files.js');
    const { readLogFiles } = await ours('node/read-log-files.js');
    const session = readSession(folder, nodeFiles);
    const sums = new Float64Array(COLUMNS.length);
    const { rows } = await readLogFiles({
      session,
      files: resolveLogFiles(session, nodeFiles),
      onBlock: ({ n, t, v, i, temp, ch }) => addUp(sums, [t, v, i, temp, ...ch], n),
    });
    return { rows, sums: [...sums] };
  },

  /**
   * DuckDB, its columns streamed to JavaScript as typed arrays. It is told all that it could have to find out: names,
   * types, and that times are wanted as seconds, which it works out on its own threads.
   */
  async duckdb(folder) {
    const { DuckDBInstance } = await import('@duckdb/node-api');
    const instance = await DuckDBInstance.create(':memory:');
    const connection = await instance.connect();
    const log = ['log.csv', 'log.csv.gz'].map((name) => join(folder, name)).find((path) => existsSync(path));
    const path = log.replaceAll("'", "''");
    const [time, ...readings] = COLUMNS;
    const types = [`${time}: 'TIMESTAMP'`, ...readings.map((name) => `${name}: 'DOUBLE'`)].join(', ');
    const result = await connection.stream(
      `select epoch(${time}), ${readings.join(', ')} from read_csv('${path}', header = true, delim = ',', columns = {${types}})`,
    );
    const sums = new Float64Array(COLUMNS.length);
    let rows = 0;
    for (let chunk = await result.fetchChunk(); chunk?.rowCount > 0; chunk = await result.fetchChunk()) {
      rows += chunk.rowCount;
      const columns = COLUMNS.map((_, k) => chunk.getColumnVector(k).items);
      addUp(sums, columns, chunk.rowCount);
    }
    connection.closeSync();
    return { rows, sums: [...sums] };
  },
};

function addUp(sums, columns, n) {
  for (let c = 0; c < columns.length; c++) {
    const column = columns[c];
    let sum = 0;
    for (let k = 0; k < n; k++) sum += column[k];
    sums[c] += sum;
  }
}

const [way, folder] = process.argv.slice(2);
const result = await WAYS[way](folder);
process.stdout.write(JSON.stringify({ ...result, peakBytes: process.resourceUsage().maxRSS * 1024 }));
