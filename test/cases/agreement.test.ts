/** The table of what may not stand in one report: that it is whole, and that it sees what is planted. */
import { expect, test } from 'vitest';
import type { Report, ReportFinding } from '../../src/report/contract/report.ts';
import { sampleReport } from '../report/sample.ts';
import { AGREEMENTS, disagreements } from './agreement.mjs';

const sample = sampleReport();
const [first] = sample.findings;
const [stand] = sample.parked;
if (!first || !stand) throw new Error('the sample has a finding and a stand');
const clear: ReportFinding = { ...first, status: 'clear', variant: null, reason_key: null, follows: null };

/** What the table finds in the sample with these findings alone, and with what else differs. */
const planted = (found: Readonly<Record<string, Partial<ReportFinding>>>, more: Partial<Report> = {}) =>
  disagreements({
    ...sample,
    ...more,
    findings: Object.entries(found).map(([check, changes]) => ({ ...clear, ...changes, check })),
  }).join('\n');

test('each line has a name of its own, and a reason', () => {
  expect(AGREEMENTS.length).toBeGreaterThan(60);
  expect(new Set(AGREEMENTS.map(({ name }) => name)).size).toBe(AGREEMENTS.length);
  expect(AGREEMENTS.filter(({ why }) => why.length < 5)).toEqual([]);
});

test('two findings that exclude each other are seen', () => {
  const never = { status: 'fault', variant: 'never-asleep' } as const;
  expect(planted({ 'parked-draw': never, 'sleep-time': { status: 'clear' } })).toMatch(/parked-draw .* sleep-time/);
  expect(planted({ 'charging-low': { status: 'fault' }, 'charge-balance': { status: 'clear' } })).toMatch(
    /charging-low/,
  );
  const empty = { status: 'fault', variant: 'empty' } as const;
  expect(planted({ 'resting-charge': empty, 'stand-time': { status: 'clear' } })).toMatch(
    /resting-charge .* stand-time/,
  );
});

test('a finding that the tables of the report exclude is seen', () => {
  const held = [{ start: stand.start, end: stand.end, mean_a: 0.4, mean_u_a: 0.01, charge_ah: 4, charge_u_ah: 0.1 }];
  const parked = [{ ...stand, held }];
  const calm = { status: 'clear', measured: { value: 60, unit: 's', uncertainty: 1, coverage: 2 } } as const;
  expect(planted({ 'held-awake': calm }, { parked })).toMatch(/a load that stays for longer/);
  const events = [0, 60].map((s) => ({
    kind: 'failed-start' as const,
    start: new Date(Date.parse(sample.log.start) + 1000 * s).toISOString(),
    seconds: 5,
    mean_a: 200,
    volts_min: 9.8,
  }));
  expect(planted({ 'crank-voltage': { status: 'clear' } }, { events })).toMatch(/failed starts/);
});

test('an all-clear above a fault, a figure that stands nowhere else and a cause that is none are seen', () => {
  const summary = { ...sample.summary, answer: 'We found no fault.' };
  expect(planted({ 'log-coverage': { status: 'fault' } }, { summary })).toMatch(/no all-clear above a fault/);
  expect(planted({}, { summary: { ...sample.summary, found: ['It draws 987654 mA.'] } })).toMatch(/987654/);
  const follows = { status: 'fault', follows: 'wake-ups' } as const;
  expect(planted({ 'parked-draw': follows, 'wake-ups': { status: 'fault' } })).toMatch(/parked-draw from wake-ups/);
});
