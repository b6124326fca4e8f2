/** What holds for every report, whatever the log: the contract's fields, order, sums, an answer from every check, and nothing that excludes something else. */
import { expect } from 'vitest';
import { CHECKS } from '../../src/checks/registry.ts';
import { type Report, ReportContract } from '../../src/report/contract/report.ts';
import { strictFaults } from '../report/contract/strict.ts';
import { disagreements } from './agreement.mjs';

export function expectSound(report: Report): void {
  // As a program would get it: what JSON cannot hold (NaN, undefined) must show.
  const read = JSON.parse(JSON.stringify(report)) as Report;
  expect(strictFaults(read, 'report')).toEqual([]);
  expect(ReportContract.safeParse(read).error?.issues ?? []).toEqual([]);
  expectPeriods(read);
  expectSums(read);
  expectFindings(read);
  expectPortrait(read);
  expect(disagreements(read)).toEqual([]);
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
    if (stand.account) {
      const { settling_ah, asleep_ah, wakes_ah, held_ah, unknown_ah, fed_ah } = stand.account;
      const parts = [settling_ah, asleep_ah, wakes_ah, held_ah, unknown_ah];
      near(
        parts.reduce((sum, part) => sum + part, 0),
        stand.charge_out_ah,
        1e-5 * stand.charge_out_ah + 1e-9,
      );
      expect([...parts, fed_ah].every((part) => part >= -1e-9)).toBe(true);
      const heldAh = stand.held.reduce((sum, load) => sum + load.charge_ah, 0);
      near(heldAh, held_ah, 1e-5 * heldAh + 1e-9);
      for (const { start, end } of stand.held) expect(start >= stand.start && end <= stand.end).toBe(true);
    }
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

function expectPortrait({ portrait, periods, totals, drives, cranks, log }: Report): void {
  if (!portrait) throw new Error('a report has a portrait');
  const lengthS = (Date.parse(log.end) - Date.parse(log.start)) / 1000;
  for (const { kind, seconds, share, current_a, voltage_v } of portrait.states) {
    const own = periods.filter((period) => period.kind === kind);
    expect(Math.abs(seconds - own.reduce((sum, period) => sum + period.seconds, 0))).toBeLessThan(
      0.01 * own.length + 0.01,
    );
    if (lengthS > 0) expect(Math.abs(share - seconds / lengthS)).toBeLessThan(1e-4);
    for (const spread of [current_a, voltage_v])
      if (spread) expect(spread.p05 <= spread.p50 && spread.p50 <= spread.p95).toBe(true);
  }
  const sum = (key: 'charge_in_ah' | 'charge_out_ah') => portrait.days.reduce((all, day) => all + day[key], 0);
  // A stretch that is cut at midnight is split into in and out on both sides of it.
  const slackAh = (all: number) => 0.001 * all + 0.002 * portrait.days.length;
  expect(Math.abs(sum('charge_in_ah') - totals.charge_in_ah)).toBeLessThan(slackAh(totals.charge_in_ah));
  expect(Math.abs(sum('charge_out_ah') - totals.charge_out_ah)).toBeLessThan(slackAh(totals.charge_out_ah));
  expect(portrait.drives.count).toBe(drives.length);
  expect(portrait.starts.count).toBeLessThanOrEqual(cranks.length);
  expect(portrait.key_cycles.with_drive).toBeLessThanOrEqual(portrait.key_cycles.count);
  for (const { on_share } of portrait.circuits)
    for (const share of Object.values(on_share)) expect(share >= 0 && share <= 1).toBe(true);
}
