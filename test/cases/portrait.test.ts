/**
 * The portrait of the demo's electric car, held against its log as DuckDB reads and adds it up: an independent reader and
 * integrator that knows the report's own times and nothing else of us.
 */
import { mkdtempSync, rmSync } from 'node:fs';
import { tmpdir } from 'node:os';
import { join } from 'node:path';
import { type DuckDBConnection, DuckDBInstance } from '@duckdb/node-api';
import { afterAll, beforeAll, describe, expect, it } from 'vitest';
import { nodeFiles } from '../../src/base/disk/node-files.ts';
import { demoSessions } from '../../src/demo/scenarios.ts';
import { writeSession } from '../../src/demo/write-session.ts';
import { readSession } from '../../src/manifest/read-session.ts';
import { makeReport } from '../../src/node/make-report.ts';
import type { Report } from '../../src/report/contract/report.ts';
import { disk } from '../demo/disk.ts';
import { expectSound } from './invariants.ts';

const folder = mkdtempSync(join(tmpdir(), 'standstill-portrait-'));
const demo = demoSessions().find(({ scenario }) => scenario.powertrain === 'electric');
let report: Report;
let duck: DuckDBConnection;

beforeAll(async () => {
  if (!demo) throw new Error('the demo has no electric car');
  await writeSession(folder, demo, disk);
  report = (await makeReport(readSession(folder, nodeFiles), { pageSize: 'a4', language: 'en', version: 'test' }))
    .report;
  duck = await (await DuckDBInstance.create(':memory:')).connect();
  const files = join(folder, 'log', '*.csv').replaceAll("'", "''");
  // Dublin has the offset 0 in the days of this log.
  await duck.run(`
    create table log as
    select epoch_ms(strptime(time, '%d/%m/%Y %H:%M:%S.%g')) / 1000.0 as t, battery_V as v, battery_A as a
    from read_csv('${files}', types = {'time': 'VARCHAR'});
    create table steps as
    select lag(t) over (order by t) as t0, t as t1, (v + lag(v) over (order by t)) / 2 as v,
           (a + lag(a) over (order by t)) / 2 as a from log;`);
}, 120_000);
afterAll(() => {
  duck?.closeSync();
  rmSync(folder, { recursive: true, force: true });
});

const ask = async (sql: string) => (await duck.runAndReadAll(sql)).getRowsJS().map((row) => row.map(Number));
const portrait = () => report.portrait as NonNullable<Report['portrait']>;
const at = (iso: string) => Date.parse(iso) / 1000;

describe('the portrait of an electric car', () => {
  it('is sound, and counts what was done with it', () => {
    expectSound(report);
    expect(portrait().drives.count).toBe(demo?.scenario.drives.length);
    expect(portrait().top_ups.count).toBe(demo?.scenario.topUps?.length);
    expect(portrait().starts.count).toBe(0);
  });

  it('has the charge, length and current of its top-ups', async () => {
    const begin = demo?.scenario.start ?? 0;
    const all = await Promise.all(
      (demo?.scenario.topUps ?? []).map(async ({ from, to }) => {
        const [row] = await ask(`select sum(a * (t1 - t0)) / 3600, sum(v * (t1 - t0)) / sum(t1 - t0) from steps
          where t0 >= ${begin + from} and t1 <= ${begin + to}`);
        return { seconds: to - from, ah: row?.[0] ?? 0, volts: row?.[1] ?? 0 };
      }),
    );
    const middle = (of: (one: (typeof all)[number]) => number) =>
      all.reduce((sum, one) => sum + of(one), 0) / all.length;
    const { top_ups } = portrait();
    expect(all).toHaveLength(2);
    const share = (found: number | null, told: number) => Math.abs((found ?? 0) / told - 1);
    expect(
      share(
        top_ups.seconds.p50,
        middle(({ seconds }) => seconds),
      ),
    ).toBeLessThan(0.01);
    expect(
      share(
        top_ups.charge_ah.p50,
        middle(({ ah }) => ah),
      ),
    ).toBeLessThan(0.01);
    expect(
      share(
        top_ups.voltage_v.p50,
        middle(({ volts }) => volts),
      ),
    ).toBeLessThan(0.002);
    expect(
      share(
        top_ups.current_a.p50,
        middle(({ ah, seconds }) => (ah * 3600) / seconds),
      ),
    ).toBeLessThan(0.01);
  });

  it('has current and voltage by state as the rows have them', async () => {
    for (const state of portrait().states) {
      const spans = report.periods
        .filter(({ kind }) => kind === state.kind)
        .map(({ start, end }) => `(t0 >= ${at(start) - 0.001} and t1 <= ${at(end) + 0.001})`);
      // Each step of this log is as long as the next, so that quantiles need no weights.
      const [row = []] = await ask(
        `select ${['a', 'v']
          .flatMap((column) => [0.05, 0.5, 0.95].map((p) => `quantile_disc(${column}, ${p})`))
          .join(', ')} from steps where ${spans.join(' or ')}`,
      );
      const found = [state.current_a, state.voltage_v].flatMap((one) => [one?.p05 ?? 0, one?.p50 ?? 0, one?.p95 ?? 0]);
      const slack = (k: number) => (k < 3 ? 0.01 * Math.abs(row[k] ?? 0) + 0.0006 : 0.006);
      found.forEach((value, k) => {
        expect(Math.abs(value - (row[k] ?? 0)), `${state.kind}, ${k}: ${value}, ${row[k]}`).toBeLessThan(slack(k));
      });
    }
  });

  it('has the days of its calendar', async () => {
    const days = await ask(`select floor(t0 / 86400), sum(a * (t1 - t0)) / 3600 from steps group by 1 order by 1`);
    const own = days.filter(([day]) => (day ?? 0) > 0);
    expect(portrait().days.map(({ date }) => Date.parse(date) / 86_400_000)).toEqual(own.map(([day]) => day));
    portrait().days.forEach(({ charge_in_ah, charge_out_ah }, k) => {
      expect(charge_in_ah - charge_out_ah).toBeCloseTo(own[k]?.[1] ?? 0, 2);
    });
  });
});
