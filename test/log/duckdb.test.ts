/** DuckDB as the independent reader (counts, sums and extremes of every column of a clean log) and writer of Parquet. */
import { mkdtemp, rm, writeFile } from 'node:fs/promises';
import { tmpdir } from 'node:os';
import { join } from 'node:path';
import { DuckDBInstance } from '@duckdb/node-api';
import { afterAll, beforeAll, expect, it } from 'vitest';
import { diskIo } from '../../src/node/disk-io.ts';
import { csv, type Reading, readFrom, samples, sessionWith } from './helpers.ts';

const ROWS = 100_000;
let folder = '';

beforeAll(async () => {
  folder = await mkdtemp(join(tmpdir(), 'standstill-duckdb-'));
  const rows = samples(ROWS).map((row, k) => (k % 97 === 0 ? { ...row, c: Number.NaN } : row));
  await writeFile(join(folder, 'log.csv'), csv(rows).replaceAll('NaN', ''));
});
afterAll(() => rm(folder, { recursive: true, force: true }));

function summary(values: readonly number[]): (number | null)[] {
  const seen = values.filter((value) => !Number.isNaN(value));
  return [
    seen.length,
    seen.reduce((sum, value) => sum + value, 0),
    seen.reduce((a, b) => Math.min(a, b)),
    seen.reduce((a, b) => Math.max(a, b)),
  ];
}

async function byDuckDb(): Promise<Map<string, unknown[]>> {
  const instance = await DuckDBInstance.create(':memory:');
  const connection = await instance.connect();
  const path = join(folder, 'log.csv').replaceAll("'", "''");
  const columns = ['t', 'v', 'a', 'c'];
  const result = await connection.runAndReadAll(`
    select ${columns.map((c) => `count(${c}), sum(${c}), min(${c}), max(${c})`).join(', ')}
    from (select epoch_ms(time) / 1000 as t, v, a, c
          from read_csv('${path}', columns = {time: 'TIMESTAMP', v: 'DOUBLE', a: 'DOUBLE', c: 'DOUBLE'}))`);
  const [row] = result.getRowsJS();
  connection.closeSync();
  return new Map(columns.map((column, k) => [column, row.slice(4 * k, 4 * k + 4).map(Number)]));
}

it('agrees with DuckDB on every column of 100,000 rows', async () => {
  const reading: Reading = await readFrom(diskIo, ['log.csv'], { ...sessionWith(), folder });
  const theirs = await byDuckDb();
  expect(reading.account).toMatchObject({ rows: ROWS, rowsRejected: 0, faults: [] });
  for (const [column, values] of [
    ['t', reading.t],
    ['v', reading.v],
    ['a', reading.i],
    ['c', reading.temp],
  ] as const) {
    const [count, sum, min, max] = theirs.get(column) as number[];
    const ours = summary(values) as number[];
    expect([column, ours[0], ours[2], ours[3]]).toEqual([column, count, min, max]);
    // Sums differ in the order of adding.
    expect(Math.abs(ours[1] - sum)).toBeLessThanOrEqual(1e-11 * Math.abs(sum));
  }
});

it.each(['uncompressed', 'snappy', 'gzip', 'zstd', 'brotli', 'lz4', 'lz4_raw'])(
  'reads Parquet that DuckDB packed as %s',
  async (codec) => {
    const connection = await (await DuckDBInstance.create(':memory:')).connect();
    const [from, to] = ['log.csv', `${codec}.parquet`].map((name) => join(folder, name).replaceAll("'", "''"));
    await connection.run(`
      copy (select * from read_csv('${from}', columns = {time: 'TIMESTAMP', v: 'DOUBLE', a: 'DOUBLE', c: 'DOUBLE'}) limit 30000)
      to '${to}' (format parquet, codec '${codec}')`);
    connection.closeSync();
    const text = await readFrom(diskIo, ['log.csv'], { ...sessionWith(), folder });
    const packed = await readFrom(diskIo, [`${codec}.parquet`], { ...sessionWith(), folder });
    for (const column of ['t', 'v', 'i', 'temp'] as const) {
      expect(packed[column]).toEqual(text[column].slice(0, 30_000));
    }
  },
);
