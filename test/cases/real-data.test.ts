/**
 * Two real logs, read whole from outside the repository where they are there; the README beside them names sources and
 * licences. Nobody made them for this tool: what it says of them must be true, and what it cannot know it must not say.
 */

import { copyFileSync, existsSync, mkdtempSync, rmSync, writeFileSync } from 'node:fs';
import { tmpdir } from 'node:os';
import { join } from 'node:path';
import { fileURLToPath } from 'node:url';
import { DuckDBInstance } from '@duckdb/node-api';
import { afterAll, beforeAll, describe, expect, it } from 'vitest';
import type { Analysis } from '../../src/analysis/model.ts';
import { nodeFiles } from '../../src/base/disk/node-files.ts';
import { readSession } from '../../src/manifest/read-session.ts';
import { makeReport, readLogs } from '../../src/node/make-report.ts';
import type { Report } from '../../src/report/contract/report.ts';
import { expectSound } from './invariants.ts';

const DATA = fileURLToPath(new URL('../../../shared/data/', import.meta.url));
const isThere = existsSync(DATA);
if (!isThere) console.warn(`Real logs are not tested: there is no ${DATA}`);

const OPTIONS = { pageSize: 'a4', language: 'en', version: 'test' } as const;

interface Case {
  readonly folder: string;
  readonly analysis: Analysis;
  readonly report: Report;
}

const folders: string[] = [];
afterAll(() => {
  for (const folder of folders) rmSync(folder, { recursive: true, force: true });
});

/** A session folder with a copy of one log, and all that is made of it. */
async function build(log: string, manifest: string): Promise<Case> {
  const folder = mkdtempSync(join(tmpdir(), 'standstill-real-'));
  folders.push(folder);
  copyFileSync(join(DATA, log), join(folder, 'log.csv'));
  writeFileSync(join(folder, 'session.yaml'), manifest);
  const analysis = await readLogs(readSession(folder, nodeFiles));
  const { report } = await makeReport(readSession(folder, nodeFiles), OPTIONS);
  return { folder, analysis, report };
}

describe.skipIf(!isThere)('fifty minutes of an engine controller, voltage alone', () => {
  /** Told by the log's engine speed, which is not read here: s from its begin. The first did not start. */
  const CRANKS = [194.2, 202.3, 260.9, 363.4, 431.5, 550.4, 671.9, 1484.6, 1738.8, 2558.3, 2609.7, 2668.3, 2780.5];
  let made: Case;
  beforeAll(async () => {
    made = await build(
      'engine-cranks/run.csv',
      `
standstill: 1
session: {id: engine-cranks, title: Engine on a controller, purpose: baseline, timezone: UTC}
vehicle: {description: Engine on a controller, powertrain: combustion, system_voltage: 12 V}
battery: {chemistry: flooded}
log:
  files: [log.csv]
  start: 2026-01-01T00:00:00
  columns:
    time: {name: Time, format: elapsed-s}
    voltage: {name: Battery V, unit: V, accuracy: 0.1 V}
`,
    );
  });

  it('makes a sound report', () => {
    expectSound(made.report);
  });

  it('finds the thirteen cranks and no others', () => {
    const found = made.analysis.cranks.map((crank) => crank.at - made.analysis.start);
    expect(found.map((at) => Math.round(at))).toHaveLength(CRANKS.length);
    CRANKS.forEach((at, k) => {
      expect(Math.abs(found[k] - at), `crank at ${at} s, found at ${found[k]} s`).toBeLessThanOrEqual(2);
    });
  });

  it('sees which attempt did not start, and dips as deep as they were', () => {
    expect(made.analysis.cranks.map((crank) => crank.started)).toEqual(CRANKS.map((_, k) => k > 0));
    // The README: lowest voltage 7.5 to 10.7 V.
    for (const crank of made.analysis.cranks) {
      expect(crank.voltsMin).toBeGreaterThanOrEqual(7.5);
      expect(crank.voltsMin).toBeLessThanOrEqual(10.7);
    }
    expect(Math.min(...made.analysis.cranks.map((crank) => crank.voltsMin))).toBe(7.5);
  });

  it('calls the impossible voltages impossible, all about 4,200 of them', () => {
    const told = made.report.log.faults.filter((fault) => fault.kind === 'out-of-range');
    const count = told.reduce((sum, fault) => sum + fault.count, 0);
    expect(count).toBeGreaterThan(4150);
    expect(count).toBeLessThan(4250);
  });

  it('tells the gaps and covers none of them', () => {
    const gaps = made.report.log.faults.filter((fault) => fault.kind === 'gap').map((fault) => fault.seconds);
    expect(Math.max(...gaps)).toBeCloseTo(710.885, 2);
    expect(gaps.some((seconds) => Math.abs(seconds - 421.37) < 0.01)).toBe(true);
    expect(made.report.log.missing_s).toBeGreaterThan(gaps.reduce((sum, seconds) => sum + seconds, 0) - 0.01);
    for (const { kind, start, end } of made.report.periods) {
      // The hour between the two longest: nothing but holes and a controller without power.
      if (kind !== 'no-data') expect(Date.parse(end) - Date.parse(start)).toBeLessThan(420_000);
    }
  });

  it('says of every question about current that it cannot be answered, and why', () => {
    const byCurrent = made.report.findings.filter((finding) => finding.reason_key === 'no-current');
    expect(byCurrent.map((finding) => finding.check)).toEqual(
      expect.arrayContaining(['parked-draw', 'sleep-time', 'stand-time', 'charge-balance', 'current-direction']),
    );
    for (const finding of byCurrent) expect(finding.reason).toMatch(/no current/);
    expect(made.report.parked.every((stand) => stand.sleep_draw_a === null && stand.mean_draw_a === null)).toBe(true);
  });
});

describe.skipIf(!isThere)('ten days of a battery without a vehicle', () => {
  let made: Case;
  let facts: Facts;
  beforeAll(async () => {
    made = await build(
      'lead-acid-telemetry/ten-days.csv',
      `
standstill: 1
session: {id: ten-days, title: Ten days on a test stand, purpose: baseline, timezone: UTC}
vehicle: {description: Battery on a test stand, powertrain: combustion, system_voltage: 12 V}
battery: {chemistry: flooded}
log:
  files: [log.csv]
  columns:
    time: {name: time, format: iso}
    voltage: {name: voltage, unit: V}
    current: {name: current, unit: A, positive: discharging}
    temperature: {name: temperature, unit: °C}
`,
    );
    facts = await independently(join(made.folder, 'log.csv'));
  });

  it('makes a sound report', () => {
    expectSound(made.report);
  });

  it('reads every row and keeps the extremes of every column', () => {
    const { tiles, temperature } = made.analysis;
    const least = (column: Float64Array) => Math.min(...column.subarray(0, tiles.n).filter((x) => !Number.isNaN(x)));
    expect(made.report.log.rows).toBe(facts.rows);
    expect(made.report.log.rows_rejected).toBe(0);
    expect(least(tiles.vMin)).toBe(facts.v[0]);
    expect(-least(tiles.vMax.map((x) => -x))).toBe(facts.v[1]);
    // In the file a draw is positive.
    expect(least(tiles.iMin)).toBe(-facts.i[1]);
    expect(-least(tiles.iMax.map((x) => -x))).toBe(-facts.i[0]);
    // Of temperature, tiles keep the mean of the readings that fall into them.
    expect(temperature?.min).toBeCloseTo(facts.temp[0], 0);
    expect(temperature?.max).toBeCloseTo(facts.temp[1], 0);
  });

  it('has the portrait of a battery without a vehicle: its days, and nothing that only a vehicle does', () => {
    const { portrait, totals } = made.report;
    const days = portrait?.days ?? [];
    expect([days.length, days[0]?.date, days.at(-1)?.date]).toEqual([11, '2017-03-25', '2017-04-04']);
    const sum = (of: (day: (typeof days)[number]) => number) => days.reduce((all, day) => all + of(day), 0);
    const inAh = sum(({ charge_in_ah, charger_ah }) => charge_in_ah + charger_ah);
    const outAh = sum(({ charge_out_ah }) => charge_out_ah);
    expect(inAh / (totals.charge_in_ah + made.analysis.totals.chargerInAh)).toBeCloseTo(1, 2);
    expect(outAh / totals.charge_out_ah).toBeCloseTo(1, 2);
    expect(portrait).toMatchObject({ starts: { count: 0 }, top_ups: { count: 0 }, circuits: [] });
  });

  it('has the depth and the temperatures of each of its days as DuckDB reckons them', () => {
    const days = made.report.portrait?.days ?? [];
    expect(facts.days.map(({ date }) => date)).toEqual(days.map(({ date }) => date));
    const near = (found: number | null | undefined, told: number, slack: number, what: string) =>
      expect(Math.abs((found ?? Number.NaN) - told), `${what}: ${found}, ${told}`).toBeLessThan(slack);
    facts.days.forEach((told, k) => {
      const found = days[k];
      // What a tile over midnight holds, ten minutes here, counts to the day in which it begins.
      near(found?.voltage_min_v, told.minV, 0.02, `${told.date}, lowest voltage`);
      near(found?.depth_ah, told.depthAh, 0.02 * told.depthAh + 0.02, `${told.date}, depth`);
      // Of temperature, tiles keep the mean of the readings that fall into them.
      near(found?.temperature_min_c, told.minC, 0.6, `${told.date}, coldest`);
      near(found?.temperature_max_c, told.maxC, 0.6, `${told.date}, warmest`);
    });
    // Eight discharges to the end: the battery was emptied as deep as its own charge goes.
    expect(Math.max(...facts.days.map(({ depthAh }) => depthAh))).toBeGreaterThan(10);
  });

  it('counts charge in and out as DuckDB does', () => {
    const { totals } = made.analysis;
    const inAh = totals.chargeInAh + totals.chargerInAh;
    // Some hundred seconds of holes, and the change from one step to another, are not ours to fill.
    expect(Math.abs(inAh - facts.inAh)).toBeLessThan(0.002 * facts.inAh);
    expect(Math.abs(totals.chargeOutAh - facts.outAh)).toBeLessThan(0.002 * facts.outAh);
  });

  it('finds every discharge, with its charge', () => {
    const used = made.analysis.periods.filter((p) => p.kind === 'awake' && p.chargeOutAh > 1);
    expect(facts.discharges.length).toBe(8);
    expect(used.length).toBe(facts.discharges.length);
    facts.discharges.forEach((discharge, k) => {
      expect(Math.abs(used[k].start - discharge.start)).toBeLessThan(660);
      expect(Math.abs(used[k].chargeOutAh - discharge.outAh)).toBeLessThan(0.02 * discharge.outAh);
    });
  });

  it('invents no crank, no drive, no key', () => {
    expect(made.report.cranks).toEqual([]);
    expect(made.report.drives).toEqual([]);
    const kinds = new Set(made.report.periods.map((period) => period.kind));
    expect([...kinds].sort()).toEqual(['asleep', 'awake', 'no-data', 'on-charger']);
    expect(made.report.totals.driving_s).toBe(0);
    expect(made.report.parked.every((stand) => !stand.key_off_in_log && stand.time_to_sleep_s === null)).toBe(true);
  });

  it('says what it cannot answer, and that a charger was there', () => {
    const status = (check: string) => made.report.findings.find((finding) => finding.check === check)?.status;
    for (const check of ['crank-voltage', 'battery-resistance', 'charging-low', 'charging-high', 'stand-time'])
      expect([check, status(check)]).toEqual([check, 'undecided']);
    expect(status('charger-seen')).toBe('fault');
    expect(status('current-direction')).toBe('clear');
    // Every discharge ends below 11 V.
    expect(['fault', 'watch', 'undecided']).toContain(status('deep-discharge'));
    expect(status('held-awake')).toBe('fault');
  });
});

interface Facts {
  readonly rows: number;
  readonly v: readonly [number, number];
  readonly i: readonly [number, number];
  readonly temp: readonly [number, number];
  readonly inAh: number;
  readonly outAh: number;
  /** Stretches of more than 0.2 A out of the battery, no more than an hour apart. */
  readonly discharges: readonly { readonly start: number; readonly outAh: number }[];
  /** Depth: most charge that lacked to the fullest moment until then. */
  readonly days: readonly {
    readonly date: string;
    readonly minV: number;
    readonly minC: number;
    readonly maxC: number;
    readonly depthAh: number;
  }[];
}

/** The same log through another reader and another integrator. Draw is positive in it. */
async function independently(path: string): Promise<Facts> {
  const instance = await DuckDBInstance.create(':memory:');
  const connection = await instance.connect();
  const ask = async (sql: string) => (await connection.runAndReadAll(sql)).getRowsJS().map((row) => row.map(Number));
  const file = path.replaceAll("'", "''");
  await connection.run(`create table log as select epoch_ms(time) / 1000.0 as t, voltage, current, temperature
    from read_csv('${file}', columns = {time: 'TIMESTAMP', voltage: 'DOUBLE', current: 'DOUBLE', temperature: 'DOUBLE'})`);
  await connection.run(`create table step as
    select t, current, t - lag(t) over w as dt, (current + lag(current) over w) / 2 as mean
    from log where current is not null window w as (order by t)`);
  const [[rows, vMin, vMax, iMin, iMax, cMin, cMax]] = await ask(
    `select count(*), min(voltage), max(voltage), min(current), max(current), min(temperature), max(temperature) from log`,
  );
  const [[inAh, outAh]] = await ask(
    `select sum(greatest(-mean, 0) * dt) / 3600, sum(greatest(mean, 0) * dt) / 3600 from step`,
  );
  const discharges = await ask(`
    with busy as (select t, mean * dt / 3600 as ah, t - lag(t) over (order by t) > 3600 as fresh from step where current > 0.2),
      numbered as (select t, ah, count(*) filter (where fresh) over (order by t) as part from busy)
    select min(t), sum(ah) from numbered group by part order by 1`);
  const days = await ask(`
    with sums as (select t, sum(coalesce(-mean * dt, 0)) over (order by t) / 3600 as ah from step),
      depths as (select t, greatest(max(ah) over (order by t), 0) - ah as depth from sums)
    select floor(t / 86400) as day, min(voltage), min(temperature), max(temperature), max(depth)
    from log left join depths using (t) group by 1 order by 1`);
  connection.closeSync();
  return {
    rows,
    v: [vMin, vMax],
    i: [iMin, iMax],
    temp: [cMin, cMax],
    inAh,
    outAh,
    days: days.map(([day, minV, minC, maxC, depthAh]) => ({
      date: new Date(day * 86_400_000).toISOString().slice(0, 10),
      minV,
      minC,
      maxC,
      depthAh,
    })),
    discharges: discharges.map(([start, ah]) => ({ start, outAh: ah })),
  };
}
