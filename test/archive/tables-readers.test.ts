/**
 * The tables as two readers see them that share no code with the writer: Arrow's own (in Rust, as WebAssembly) and DuckDB.
 * What they are held against is the Apache Parquet format's list of logical types.
 */
import { mkdirSync, mkdtempSync, readFileSync, rmSync, writeFileSync } from 'node:fs';
import { tmpdir } from 'node:os';
import { join } from 'node:path';
import { DuckDBInstance } from '@duckdb/node-api';
import { tableFromIPC } from 'apache-arrow';
import { ParquetFile, readParquet } from 'parquet-wasm';
import { afterAll, beforeAll, describe, expect, it } from 'vitest';
import { TABLES, writeTables } from '../../src/archive/tables.ts';
import { changed, stored } from './reports.ts';

const work = mkdtempSync(join(tmpdir(), 'standstill-readers-'));
const out = join(work, 'out');
/** More than one group of 100,000 rows, in one table. */
const WAKES = 120_000;
const START_MS = Date.UTC(2026, 5, 1);
const file = (table: string) => join(out, 'tables', table, 'year=2026', 'part-0.parquet');
/** As Arrow calls what `tables.ts` declares. */
const ARROW: Readonly<Record<string, string>> = {
  STRING: 'Utf8',
  DOUBLE: 'Float64',
  INT32: 'Int32',
  BOOLEAN: 'Bool',
  TIMESTAMP: 'Timestamp<MILLISECOND, UTC>',
};

const arrow = (table: string) => tableFromIPC(readParquet(new Uint8Array(readFileSync(file(table)))).intoIPCStream());
async function duck(sql: string) {
  const instance = await DuckDBInstance.create(':memory:');
  const connection = await instance.connect();
  try {
    return (await connection.runAndReadAll(sql)).getRowObjectsJS();
  } finally {
    connection.closeSync();
    instance.closeSync();
  }
}

beforeAll(async () => {
  const report = changed(stored('many-wakes', new Date(START_MS).toISOString()), (own) => {
    own.wakes = Array.from({ length: WAKES }, (_, k) => ({
      start: new Date(START_MS + k * 1001).toISOString(),
      seconds: k / 7,
      peak_a: 1,
      mean_a: 0.5,
      charge_ah: k / 1e6,
      channels: k % 2 ? ['Tracker', 'Zähler – №1'] : [],
    }));
  });
  mkdirSync(join(out, 'sessions', 'many-wakes'), { recursive: true });
  writeFileSync(join(out, 'sessions', 'many-wakes', 'report.json'), JSON.stringify(report));
  await writeTables(out);
}, 60_000);
afterAll(() => rmSync(work, { recursive: true, force: true }));

describe('the tables', () => {
  it.each(Object.entries(TABLES))('have the types that are declared: %s', async (name, { columns }) => {
    const { fields } = arrow(name).schema;
    expect(fields.map((field) => [field.name, String(field.type), field.nullable])).toEqual([
      ['session_id', 'Utf8', false],
      ...Object.entries(columns).map(([column, type]) => [column, ARROW[type], true]),
    ]);
    const elements = await duck(
      `select name, logical_type from parquet_schema('${file(name)}') where num_children is null`,
    );
    for (const { name: column, logical_type } of elements) {
      const type = columns[String(column)] ?? 'STRING';
      if (type === 'TIMESTAMP') expect(logical_type).toMatch(/TimestampType\(isAdjustedToUTC=1, unit=TimeUnit\(MILLIS/);
      else expect(logical_type).toBe(type === 'STRING' ? 'StringType()' : null);
    }
  });

  it('give both readers the same values, to the last bit', async () => {
    const rows = arrow('wakes');
    expect(rows.numRows).toBe(WAKES);
    const columns = ['start', 'seconds', 'charge_ah', 'channels'].map((name) => rows.getChild(name));
    const theirs = await duck(
      `select epoch_ms(start)::double as start, seconds, charge_ah, channels from '${file('wakes')}' where (seconds * 7)::int % 999 = 0`,
    );
    expect(theirs.length).toBeGreaterThan(100);
    for (const row of theirs) {
      const k = Math.round((Number(row.start) - START_MS) / 1001);
      const ours = columns.map((column) => column?.get(k));
      expect(ours.map((value) => (typeof value === 'bigint' ? Number(value) : value))).toEqual(Object.values(row));
      expect(ours.slice(1)).toEqual([k / 7, k / 1e6, k % 2 ? 'Tracker; Zähler – №1' : '']);
    }
  });

  it('come in groups with statistics, by which an engine leaves groups out', async () => {
    const metadata = (await ParquetFile.fromFile(new Blob([readFileSync(file('wakes'))]))).metadata();
    expect(metadata.rowGroups().map((group) => group.numRows())).toEqual([100_000, 20_000]);
    const groups = await duck(`select row_group_id::int as id, epoch_ms(stats_min_value::timestamptz)::double as low,
      epoch_ms(stats_max_value::timestamptz)::double as high, stats_null_count::int as nulls
      from parquet_metadata('${file('wakes')}') where path_in_schema = 'start' order by id`);
    expect(groups).toEqual([
      { id: 0, low: START_MS, high: START_MS + 99_999 * 1001, nulls: 0 },
      { id: 1, low: START_MS + 100_000 * 1001, high: START_MS + (WAKES - 1) * 1001, nulls: 0 },
    ]);
    const without = await duck(`select distinct path_in_schema from parquet_metadata('${file('wakes')}')
      where stats_null_count is null`);
    expect(without).toEqual([]);
  });

  it('say the year in the folder’s name alone', async () => {
    for (const name of Object.keys(TABLES))
      expect(arrow(name).schema.fields.map((field) => field.name)).not.toContain('year');
    expect(
      await duck(
        `select distinct year::int as year from read_parquet('${join(out, 'tables', 'wakes')}/*/*.parquet', hive_partitioning = true)`,
      ),
    ).toEqual([{ year: 2026 }]);
  });
});
