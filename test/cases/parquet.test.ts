/** One log as text and as Parquet: the reports may differ in what they say of the files, and in nothing else. */

import { mkdir, mkdtemp, readFile, rm, writeFile } from 'node:fs/promises';
import { tmpdir } from 'node:os';
import { join } from 'node:path';
import { parquetWriteBuffer } from 'hyparquet-writer';
import { afterAll, beforeAll, expect, it } from 'vitest';
import { nodeFiles } from '../../src/base/disk/node-files.ts';
import { writeSession } from '../../src/demo/write-session.ts';
import { readSession } from '../../src/manifest/read-session.ts';
import { makeReport } from '../../src/node/make-report.ts';
import { disk } from '../demo/disk.ts';
import { smallSession } from './small-sessions.ts';

let folder = '';
beforeAll(async () => {
  folder = await mkdtemp(join(tmpdir(), 'standstill-parquet-'));
});
afterAll(() => rm(folder, { recursive: true, force: true }));

async function reportOf(path: string) {
  const options = { pageSize: 'a4', language: 'en', version: 'test' } as const;
  const { report, charts } = await makeReport(readSession(path, nodeFiles), options);
  const { files, understood, ...log } = report.log;
  return { files, rest: { ...report, log }, specs: JSON.stringify(charts.map(({ spec }) => spec)) };
}

/** Times as the text has them, readings as numbers; an empty cell is a null. */
async function toParquet(csv: string): Promise<Uint8Array> {
  const [header, ...lines] = (await readFile(csv, 'utf8')).trimEnd().split('\n');
  const rows = lines.map((line) => line.split(','));
  const columnData = header
    .split(',')
    .map((name, c) =>
      c === 0
        ? { name, data: rows.map((row) => row[c]), type: 'STRING' as const }
        : { name, data: rows.map((row) => (row[c] === '' ? null : Number(row[c]))), type: 'DOUBLE' as const },
    );
  return new Uint8Array(parquetWriteBuffer({ columnData, rowGroupSize: 1500 }));
}

it.each(['plain', 'hole while asleep', 'without current'] as const)('%s', async (name) => {
  const [asText, asParquet] = ['text', 'parquet'].map((form) => join(folder, name, form));
  await writeSession(asText, smallSession(name), disk);
  const manifest = await readFile(join(asText, 'session.yaml'), 'utf8');
  await mkdir(join(asParquet, 'log'), { recursive: true });
  await writeFile(join(asParquet, 'session.yaml'), manifest.replace('.csv', '.parquet'));
  await writeFile(join(asParquet, 'log', 'log.parquet'), await toParquet(join(asText, 'log', 'log.csv')));

  const [text, parquet] = [await reportOf(asText), await reportOf(asParquet)];
  expect(parquet.files.map((file) => [file.name, file.rows])).toEqual([['log/log.parquet', text.files[0].rows]]);
  expect(text.files[0].rows).toBeGreaterThan(5000);
  expect(parquet.rest).toEqual(text.rest);
  expect(parquet.specs).toBe(text.specs);
});
