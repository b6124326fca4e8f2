import { mkdtempSync, readFileSync, rmSync } from 'node:fs';
import { tmpdir } from 'node:os';
import { join } from 'node:path';
import { DuckDBInstance } from '@duckdb/node-api';
import { parquetMetadata } from 'hyparquet';
import { parquetWriteBuffer } from 'hyparquet-writer';
import { describe, expect, it } from 'vitest';
import { csv, fault, iso, kinds, read, type Sample, START, samples, sessionWith } from '../helpers.ts';

const ROWS = samples(5000);

type Column = Parameters<typeof parquetWriteBuffer>[0]['columnData'][number];

function parquet(time: Omit<Column, 'name'>, rows: readonly Sample[] = ROWS): Uint8Array {
  const columnData: Column[] = [
    { name: 'other', data: rows.map((_, k) => k), type: 'INT32' },
    { name: 'time', ...time },
    { name: 'v', data: rows.map(({ v }) => v), type: 'DOUBLE' },
    { name: 'a', data: rows.map(({ a }) => a), type: 'DOUBLE' },
    { name: 'c', data: rows.map(({ c }, k) => (k === 3 ? null : c)), type: 'DOUBLE' },
  ];
  return new Uint8Array(parquetWriteBuffer({ columnData, rowGroupSize: 2000 }));
}

const STAMPS = { data: ROWS.map(({ t }) => new Date(t * 1000)), type: 'TIMESTAMP' } as const;

describe('Parquet', () => {
  it.each([
    ['timestamps', STAMPS],
    ['ISO text', { data: ROWS.map(({ t }) => iso(t)), type: 'STRING' }],
    ['epoch-s', { data: ROWS.map(({ t }) => t), type: 'DOUBLE' }],
    ['epoch-ms', { data: ROWS.map(({ t }) => BigInt(Math.round(t * 1000))), type: 'INT64' }],
  ] as const)('gives the same samples as text: %s', async (_, time) => {
    const fromText = await read(csv(ROWS.map((row, k) => (k === 3 ? { ...row, c: Number.NaN } : row))));
    const { account, ...columns } = await read({ 'log.parquet': parquet(time) });
    const { account: textAccount, ...textColumns } = fromText;
    expect(columns).toEqual(textColumns);
    expect(account.faults).toEqual(textAccount.faults);
    expect(account.rows).toBe(5000);
    expect(account.understood[0].how).toBe('Parquet, 5000 rows in 3 groups');
  });

  it('puts it in order with text', async () => {
    const late = samples(50, { start: START + 500 });
    const { t, account } = await read({ 'a.csv': csv(late), 'b.parquet': parquet(STAMPS) });
    expect(t).toEqual([...ROWS, ...late].map((row) => row.t));
    expect(account.faults).toEqual([]);
  });

  it('names a wrong column', async () => {
    const session = sessionWith({ columns: { voltage: { name: 'volt', unit: 'V' } } });
    await expect(read({ 'log.parquet': parquet(STAMPS) }, session)).rejects.toThrow(
      'There is no column "volt" in the log: log.parquet has the columns "other", "time", "v", "a", "c".',
    );
  });

  it('tells a file that breaks off, and reads the others', async () => {
    const whole = parquet(STAMPS);
    const { t, account } = await read({ 'a.parquet': whole.subarray(0, whole.length / 2), 'b.csv': csv(ROWS) });
    expect(t).toHaveLength(5000);
    expect(kinds(account)).toEqual(['cut-short', 'empty']);
    expect(fault(account, 'cut-short').file).toBe('a.parquet');
    await expect(read({ 'a.parquet': whole.subarray(0, 5000) })).rejects.toThrow('cannot be read');
  });

  it('keeps the groups that can be read', async () => {
    const bytes = parquet(STAMPS);
    const [group] = parquetMetadata(bytes.slice().buffer).row_groups;
    const column = group.columns.find(({ meta_data }) => meta_data?.path_in_schema[0] === 'v')?.meta_data;
    if (column === undefined) throw new Error('no column v');
    const from = Number(column.data_page_offset);
    bytes.fill(0xff, from, from + Number(column.total_compressed_size));
    const { t, account } = await read({ 'log.parquet': bytes });
    expect(t).toEqual(ROWS.slice(2000).map((row) => row.t));
    expect(fault(account, 'cut-short').found).toContain('rows 1 to 2000');
  });

  it('does not unpack a group of more rows than memory holds', async () => {
    const folder = mkdtempSync(join(tmpdir(), 'standstill-parquet-'));
    try {
      const path = join(folder, 'log.parquet');
      const duck = await (await DuckDBInstance.create(':memory:')).connect();
      await duck.run(`copy (select ${START}::double as time, 12.6::double as v, 0::double as a, 20::double as c from range(9000000))
        to '${path}' (format parquet, compression zstd, row_group_size 9000000, parquet_version v2)`);
      duck.closeSync();
      const bytes = readFileSync(path);
      expect(bytes.length).toBeLessThan(5000);
      const session = sessionWith({ columns: { time: { name: 'time', format: 'epoch-s' } } });
      await expect(read({ 'log.parquet': bytes }, session)).rejects.toThrow('more than 8388608 rows in one group');
    } finally {
      rmSync(folder, { recursive: true, force: true });
    }
  }, 60_000);
});
