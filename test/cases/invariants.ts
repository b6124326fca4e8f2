/** What holds for every report, whatever the log: the contract's fields, order, sums, and an answer from every check. */
import { expect } from 'vitest';
import { z } from 'zod';
import { CHECKS } from '../../src/checks/registry.ts';
import type { Report } from '../../src/report/report.ts';

const time = z.string().regex(/^\d{4}-\d\d-\d\dT\d\d:\d\d:\d\d\.\d{3}Z$/);
const amount = z.number().min(0);
const nullable = z.number().nullable();
const KINDS = [
  'cranking',
  'driving',
  'key-on',
  'settling',
  'asleep',
  'awake',
  'on-charger',
  'disconnected',
  'no-data',
] as const;
const STATUSES = ['fault', 'watch', 'clear', 'undecided'] as const;

/** The fields of contract.md with their types; what else a report holds is not judged here. */
const CONTRACT = z.object({
  schema: z.literal('standstill-report/1'),
  tool: z.object({ name: z.literal('standstill'), version: z.string() }),
  session: z.object({ id: z.string(), vehicle: z.object({}), battery: z.object({}), limits: z.array(z.object({})) }),
  log: z.object({
    files: z
      .array(z.object({ name: z.string(), bytes: amount, sha256: z.string().regex(/^[0-9a-f]{64}$/), rows: amount }))
      .min(1),
    rows: amount,
    rows_rejected: amount,
    start: time,
    end: time,
    covered_s: amount,
    missing_s: amount,
    median_step_s: amount,
    faults: z.array(z.object({ kind: z.string(), at: time.nullable(), count: amount, seconds: amount })),
  }),
  periods: z.array(
    z.object({
      kind: z.enum(KINDS),
      start: time,
      end: time,
      seconds: amount,
      charge_in_ah: amount,
      charge_out_ah: amount,
    }),
  ),
  parked: z.array(
    z.object({
      start: time,
      end: time,
      key_off_in_log: z.boolean(),
      time_to_sleep_s: amount.nullable(),
      sleep_draw_a: nullable,
      sleep_draw_u_a: amount.nullable(),
      mean_draw_a: nullable,
      charge_out_ah: amount,
      wakes: z.int().min(0),
      rest_voltage_v: amount.nullable(),
      state_of_charge: z.number().min(0).max(1).nullable(),
    }),
  ),
  wakes: z.array(
    z.object({
      start: time,
      seconds: amount,
      peak_a: z.number(),
      mean_a: z.number(),
      charge_ah: z.number(),
      channels: z.array(z.string()),
    }),
  ),
  wake_patterns: z.array(
    z.object({
      count: z.int().min(1),
      period_s: amount.nullable(),
      seconds: amount,
      mean_a: z.number(),
      charge_ah_per_day: z.number(),
      channel: z.string().nullable(),
    }),
  ),
  cranks: z.array(
    z.object({
      at: time,
      seconds: amount,
      volts_before: z.number(),
      volts_min: z.number(),
      volts_cranking: nullable,
      amps_peak: amount.nullable(),
      resistance_ohm: amount.nullable(),
      temperature_c: nullable,
    }),
  ),
  drives: z.array(
    z.object({ start: time, end: time, volts_median: z.number(), charge_in_ah: amount, charge_out_ah: amount }),
  ),
  links: z.array(
    z.object({
      channel: z.string(),
      wakes_with: z.int().min(0),
      wakes_seen: z.int().min(0),
      charge_share: z.number(),
      chance: z.number().min(0).max(1),
    }),
  ),
  totals: z.object({
    charge_in_ah: amount,
    charge_out_ah: amount,
    driving_s: amount,
    parked_s: amount,
    asleep_s: amount,
    awake_s: amount,
  }),
  findings: z.array(
    z.object({
      check: z.string(),
      status: z.enum(STATUSES),
      title: z.string().min(1),
      plain: z.string().min(1),
      detail: z.string(),
      measured: z
        .object({ value: z.number(), unit: z.string(), uncertainty: amount.nullable(), coverage: z.literal(2) })
        .nullable(),
      limit: z.object({ value: z.number(), unit: z.string(), source: z.string().min(1) }).nullable(),
      reason: z.string().min(1).nullable(),
      evidence: z.array(z.object({ chart: z.string(), from: time, to: time })),
      cautions: z.array(z.string()),
      next_steps: z.array(z.string()),
    }),
  ),
});

export function expectSound(report: Report): void {
  // As a program would get it: what JSON cannot hold (NaN, undefined) must show.
  const read = JSON.parse(JSON.stringify(report)) as Report;
  const checked = CONTRACT.safeParse(read);
  expect(
    checked.success ? [] : checked.error.issues.map((issue) => `${issue.path.join('.')}: ${issue.message}`),
  ).toEqual([]);
  expectPeriods(read);
  expectSums(read);
  expectFindings(read);
}

function expectPeriods({ periods, log }: Report): void {
  expect(periods[0]?.start).toBe(log.start);
  expect(periods[periods.length - 1]?.end).toBe(log.end);
  periods.forEach((period, k) => {
    expect(Date.parse(period.end)).toBeGreaterThan(Date.parse(period.start));
    expect(period.seconds).toBeCloseTo((Date.parse(period.end) - Date.parse(period.start)) / 1000, 1);
    if (k > 0) expect(period.start).toBe(periods[k - 1].end);
  });
}

/** Times are rounded to milliseconds and charges to six figures: sums may differ by that much for each period. */
function expectSums({ periods, parked, log, totals }: Report): void {
  const time = (...kinds: string[]) =>
    periods.reduce((sum, period) => sum + (kinds.includes(period.kind) ? period.seconds : 0), 0);
  const slackS = 0.001 * (periods.length + 1);
  const near = (a: number, b: number, slack: number) => expect(Math.abs(a - b)).toBeLessThanOrEqual(slack);
  const lengthS = (Date.parse(log.end) - Date.parse(log.start)) / 1000;
  near(log.covered_s + log.missing_s, lengthS, 0.003);
  near(log.missing_s, time('no-data'), slackS);
  near(totals.driving_s, time('driving'), slackS);
  near(totals.asleep_s, time('asleep'), slackS);
  near(totals.awake_s, time('awake'), slackS);
  near(totals.parked_s, time('asleep', 'awake', 'settling'), slackS);
  const counts = periods.filter((period) => period.kind !== 'on-charger' && period.kind !== 'disconnected');
  for (const key of ['charge_in_ah', 'charge_out_ah'] as const) {
    const sum = counts.reduce((total, period) => total + period[key], 0);
    near(totals[key], sum, 1e-5 * sum + 1e-9);
  }
  for (const stand of parked) {
    const within = periods.filter((period) => period.start >= stand.start && period.end <= stand.end);
    expect(within.every(({ kind }) => !['driving', 'cranking', 'key-on'].includes(kind))).toBe(true);
  }
}

function expectFindings({ findings, log }: Report): void {
  expect(findings.map((finding) => finding.check).sort()).toEqual(CHECKS.map((check) => check.id).sort());
  for (const { check, status, reason, evidence } of findings) {
    expect([check, reason !== null]).toEqual([check, status === 'undecided']);
    for (const { from, to } of evidence) {
      expect(Date.parse(from)).toBeLessThanOrEqual(Date.parse(to));
      expect(Date.parse(from)).toBeGreaterThanOrEqual(Date.parse(log.start) - 1);
      expect(Date.parse(to)).toBeLessThanOrEqual(Date.parse(log.end) + 1);
    }
  }
}
