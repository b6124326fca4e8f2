/** The tables, read back by DuckDB with what a fleet would ask. */
import { mkdirSync, mkdtempSync, readFileSync, rmSync, writeFileSync } from 'node:fs';
import { tmpdir } from 'node:os';
import { join } from 'node:path';
import { type DuckDBConnection, DuckDBInstance } from '@duckdb/node-api';
import { afterAll, beforeAll, describe, expect, it } from 'vitest';
import type { StoredReport } from '../../src/archive/stored-report.ts';
import { TABLES, writeTables } from '../../src/archive/tables.ts';
import { changed, stored, withFinding } from './reports.ts';

const work = mkdtempSync(join(tmpdir(), 'standstill-tables-'));
const out = join(work, 'out');
let duck: DuckDBConnection;
const ask = async (sql: string) => (await duck.runAndReadAll(sql)).getRowObjectsJS();
const table = (name: string) =>
  `read_parquet('${join(out, 'tables', name).replaceAll("'", "''")}/*/*.parquet', hive_partitioning = true)`;

const of = (id: string, year: number, vehicle: string, mA: number, status: string, purpose = 'complaint') =>
  changed(
    withFinding(stored(id, `${year}-06-01T00:00:00.000Z`), 'parked-draw', status, {
      value: mA / 1000,
      unit: 'A',
      uncertainty: 0.003,
    }),
    (report) => {
      report.session.vehicle.description = vehicle;
      report.session.vehicle.registration = id.slice(0, 3);
      report.session.purpose = purpose as 'complaint';
    },
  );
const reports: StoredReport[] = [
  of('aaa-1', 2025, 'Small car', 80, 'fault'),
  of('aaa-2', 2026, 'Small car', 75, 'fault', 'after-repair'),
  of('bbb-1', 2026, 'Panel van', 62, 'fault'),
  of('bbb-2', 2026, 'Panel van', 18, 'clear', 'after-repair'),
];

beforeAll(async () => {
  for (const report of reports) {
    mkdirSync(join(out, 'sessions', report.session.id), { recursive: true });
    writeFileSync(join(out, 'sessions', report.session.id, 'report.json'), JSON.stringify(report));
  }
  mkdirSync(join(out, 'sessions', 'damaged'));
  writeFileSync(join(out, 'sessions', 'damaged', 'report.json'), '{');
  const { archive } = await writeTables(out);
  expect(archive.damaged.map(({ folder }) => folder)).toEqual(['damaged']);
  duck = await (await DuckDBInstance.create(':memory:')).connect();
});
afterAll(() => {
  duck?.closeSync();
  rmSync(work, { recursive: true, force: true });
});

describe('the tables', () => {
  it('hold every session in the folder of its year, and a session in every row', async () => {
    expect(
      await ask(`select year::int as year, count(*)::int as n from ${table('sessions')} group by 1 order by 1`),
    ).toEqual([
      { year: 2025, n: 1 },
      { year: 2026, n: 3 },
    ]);
    for (const name of Object.keys(TABLES)) {
      expect(await ask(`select count(*)::int as n from ${table(name)} where session_id is null`)).toEqual([{ n: 0 }]);
    }
  });

  it('give back what the reports say, to the last bit and the millisecond', async () => {
    const [first] = reports;
    const back = await ask(`select epoch_ms(start)::double as ms, sleep_draw_a, rest_voltage_v, key_off_in_log, wakes
      from ${table('parked')} where session_id = 'aaa-1' order by start`);
    expect(back).toEqual(
      first.parked.map(({ start, sleep_draw_a, rest_voltage_v, key_off_in_log, wakes }) => {
        return { ms: Date.parse(start), sleep_draw_a, rest_voltage_v, key_off_in_log, wakes };
      }),
    );
    const counts = await Promise.all(
      (['parked', 'wakes', 'cranks', 'drives'] as const).map(async (name) => {
        const [{ n }] = await ask(`select count(*)::int as n from ${table(name)}`);
        return [name, n, reports.reduce((sum, report) => sum + report[name].length, 0)];
      }),
    );
    for (const [name, n, expected] of counts) expect(n, String(name)).toBe(expected);
  });

  it('answer which models draw most', async () => {
    const worst = await ask(`select vehicle, max(value) as draw_a from ${table('findings')} f
      join ${table('sessions')} s using (session_id) where "check" = 'parked-draw' group by vehicle order by draw_a desc limit 10`);
    expect(worst).toEqual([
      { vehicle: 'Small car', draw_a: 0.08 },
      { vehicle: 'Panel van', draw_a: 0.062 },
    ]);
  });

  it('answer which repairs did not hold', async () => {
    const failed = await ask(`select s.registration, f."check" from ${table('sessions')} s
      join ${table('findings')} f using (session_id) where s.purpose = 'after-repair' and f.status = 'fault'`);
    expect(failed).toEqual([{ registration: 'aaa', check: 'parked-draw' }]);
  });

  it('answer the query that README gives', async () => {
    const readme = readFileSync(join(import.meta.dirname, '../../README.md'), 'utf8');
    const queries = [...readme.matchAll(/^```sql\n(.*?)^```/gms)].map(([, sql]) => sql);
    // The first is DuckDB's; Spark's and ClickHouse's ask the same of the same folders.
    expect(queries).toHaveLength(3);
    for (const query of queries) expect(query).toMatch(/out\/tables\/findings.*out\/tables\/sessions.*parked-draw/s);
    await duck.run(`set file_search_path = '${work.replaceAll("'", "''")}'`);
    expect(await ask(queries[0])).toEqual([
      { vehicle: 'Small car', sessions: 1n, asleep_ma: 75, faults: 1n },
      { vehicle: 'Panel van', sessions: 2n, asleep_ma: 40, faults: 1n },
    ]);
  });

  it('are the same bytes each time', async () => {
    const file = join(out, 'tables', 'wakes', 'year=2026', 'part-0.parquet');
    const before = readFileSync(file);
    await writeTables(out);
    expect(readFileSync(file).equals(before)).toBe(true);
  });
});
