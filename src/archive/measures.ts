/**
 * The measures that a comparison puts side by side. Values come from findings where a check judges the same quantity, so
 * that a comparison and the two reports say the same; the rest is put together from the report's events.
 */
import { UserError } from '../base/problem.ts';
import { there } from '../base/there.ts';
import { poissonBounds } from '../battery/counts.ts';
import { standardDeviation } from '../battery/statistics.ts';
import { accuracyU, combine, expand, rootOfSquares } from '../battery/uncertainty.ts';
import type { Check, Compared, Status } from '../checks/check.ts';
import { CHECKS } from '../checks/registry.ts';
import type { Content } from '../report/words/content.ts';
import { part, readSections, toText } from '../report/words/prose.ts';
import type { StoredFinding, StoredReport } from './stored-report.ts';

export interface MeasureValue {
  /** In the measure's unit; null where the report has none. */
  readonly value: number | null;
  /** Expanded, k = 2. */
  readonly uncertainty: number | null;
}

/** One measure of one report. */
export interface Reading extends MeasureValue {
  /** What the report says of it: `undecided` also where no check answered. */
  readonly status: Status;
  /** The check that says so. */
  readonly check: string;
  /** Of that check; drawn beside the values where it is in their unit. */
  readonly limit: { readonly value: number; readonly unit: string } | null;
  /** Words of the report on what its log lacks; null where it lacks nothing. */
  readonly lacks: string | null;
  /** °C, for what depends on it; null where it does not, or is not known. */
  readonly temperatureC: number | null;
}

export interface Measure extends Compared {
  /** Checks that judge it, in report order; the worst answer counts. */
  readonly checks: readonly string[];
}

/** Whatever a check says that it compares, in report order. */
export const MEASURES: readonly Measure[] = measuresOf(CHECKS);

function measuresOf(checks: readonly Check[]): Measure[] {
  const all = checks.flatMap(({ compared = [] }) => compared);
  return [...new Map(all.map((one) => [one.name, one])).values()].map((one) => ({
    ...one,
    checks: checks.filter(({ compared }) => compared?.some(({ name }) => name === one.name)).map(({ id }) => id),
  }));
}

const DAY_S = 86_400;
const NOTHING: MeasureValue = { value: null, uncertainty: null };

/** Measures that are put together from a report's events, or need something of them; of the others a check's value is taken as it is. */
const READ: Readonly<Record<string, (report: StoredReport, finding: StoredFinding | undefined) => Partial<Reading>>> = {
  'sleep-draw': (report, finding) => {
    const draws = report.parked.flatMap((stand) => (stand.sleep_draw_a === null ? [] : [stand.sleep_draw_a]));
    return withSpread(measuredOf(finding), draws);
  },
  'mean-parked-draw': meanParkedDraw,
  'wakes-per-day': wakesPerDay,
  'rest-voltage': restVoltage,
  'cranking-voltage': atCrankTemperature,
  resistance: atCrankTemperature,
  'charge-balance': balancePerDay,
};

/** In words: from the prose of the first check that judges it, `## compared`. */
export function measureName(name: string, content: Content): string {
  const [id] = MEASURES.find((measure) => measure.name === name)?.checks ?? [];
  const file = `checks/${id}.md`;
  const words = part(part(readSections(file, content.text(file)), 'compared'), name);
  if (!words) throw new UserError([{ file, message: `"## compared" lacks its "### ${name}".` }]);
  return toText(words.source);
}

const RANK: Readonly<Record<Status, number>> = { fault: 0, undecided: 1, watch: 2, clear: 3 };

/** A measure as one report has it. */
export function reading(name: string, report: StoredReport): Reading {
  const checks = MEASURES.find((measure) => measure.name === name)?.checks ?? [];
  const findings = checks.flatMap((check) => report.findings.find((finding) => finding.check === check) ?? []);
  const worst = findings.toSorted((a, b) => RANK[a.status] - RANK[b.status])[0];
  return {
    ...NOTHING,
    status: worst?.status ?? 'undecided',
    check: worst?.check ?? there(checks[0]),
    limit: findings[0]?.limit ?? null,
    lacks: worst?.reason ?? null,
    temperatureC: null,
    ...(READ[name]?.(report, findings[0]) ?? measuredOf(findings[0])),
  };
}

function measuredOf(finding: StoredFinding | undefined): MeasureValue {
  return finding?.measured ? { value: finding.measured.value, uncertainty: finding.measured.uncertainty } : NOTHING;
}

/** Adds the standard error of what differs from stand to stand: a difference of two logs is blurred by it too. */
function withSpread(measured: MeasureValue, values: readonly number[]): MeasureValue {
  if (measured.uncertainty === null || values.length < 2) return measured;
  const spread = standardDeviation(values) / Math.sqrt(values.length);
  return { value: measured.value, uncertainty: combine(measured.uncertainty, expand(spread)) };
}

/** Time in which wakes could be seen: asleep, and in wakes. */
function seenS({ totals, wakes }: StoredReport): number {
  return totals.asleep_s + wakes.reduce((sum, wake) => sum + wake.seconds, 0);
}

/**
 * Draw of a stand so long that settling no longer counts: the sleeping level and what the wakes add. The mean of each
 * stand as logged would compare how long the vehicle happened to stand.
 */
function meanParkedDraw(report: StoredReport): Partial<Reading> {
  const asleep = reading('sleep-draw', report);
  const hours = seenS(report) / 3600;
  const slept = report.parked.some((stand) => stand.sleep_draw_a !== null);
  if (asleep.value === null || asleep.uncertainty === null || !slept || !(hours > 0)) return NOTHING;
  const chargeAh = report.wakes.reduce((sum, wake) => sum + wake.charge_ah, 0);
  const wakesU = Math.sqrt(countVariance(report)) * meanWakeAh(report);
  const value = asleep.value + chargeAh / hours;
  const gainA = expand(accuracyU({ relative: accuracyOf('current', report)?.relative ?? 0.01, absolute: 0 }, value));
  return { value, uncertainty: combine(asleep.uncertainty, gainA, expand(wakesU / hours)) };
}

/** Root mean square of a wake's charge, Ah: what one wake more or less makes. */
function meanWakeAh({ wakes }: StoredReport): number {
  return wakes.length > 0 ? rootOfSquares(wakes.map((wake) => wake.charge_ah)) / Math.sqrt(wakes.length) : 0;
}

/** Variance of the count of wakes: one wake for each that keeps a clock, and that of chance events for the others. */
function countVariance({ wakes, wake_patterns }: StoredReport): number {
  const clocks = wake_patterns.filter((pattern) => pattern.period_s !== null);
  const clocked = clocks.reduce((sum, pattern) => sum + pattern.count, 0);
  return clocks.length + Math.max(0, wakes.length - clocked);
}

function wakesPerDay(report: StoredReport): Partial<Reading> {
  const days = seenS(report) / DAY_S;
  if (!(days > 0)) return NOTHING;
  const n = report.wakes.length;
  // None or few seen does not mean that none are to come: the exact upper bound says what may have been missed.
  const few = n < 10 ? poissonBounds(n).high - n : 0;
  const uncertainty = Math.max(expand(Math.sqrt(countVariance(report))), few) / days;
  return { value: n / days, uncertainty };
}

/** The last voltage that is rested enough to stand for a state of charge. */
function restVoltage(report: StoredReport): Partial<Reading> {
  const rested = report.parked.filter((stand) => stand.state_of_charge !== null && stand.rest_voltage_v !== null);
  const value = rested.at(-1)?.rest_voltage_v ?? null;
  if (value === null) return NOTHING;
  const accuracy = accuracyOf('voltage', report) ?? { relative: 0.003, absolute: 0.01 };
  return { value, uncertainty: expand(accuracyU(accuracy, value)) };
}

/** Net charge a day, from the first key-off to the last, which is what the check counts. */
function balancePerDay(report: StoredReport, finding: StoredFinding | undefined): Partial<Reading> {
  const { value, uncertainty } = measuredOf(finding);
  const keyOffs = report.parked.filter((stand) => stand.key_off_in_log).map((stand) => Date.parse(stand.start) / 1000);
  const [first, last] = [keyOffs[0], keyOffs.at(-1)];
  const days = first === undefined || last === undefined ? 0 : (last - first) / DAY_S;
  if (value === null || !(days > 0)) return NOTHING;
  return { value: value / days, uncertainty: uncertainty === null ? null : uncertainty / days };
}

function atCrankTemperature(report: StoredReport, finding: StoredFinding | undefined): Partial<Reading> {
  return { ...measuredOf(finding), temperatureC: crankTemperatureC(report) };
}

function crankTemperatureC({ cranks }: StoredReport): number | null {
  const known = cranks.flatMap(({ temperature_c }) => (temperature_c === null ? [] : [temperature_c]));
  return known.length > 0 ? known.reduce((sum, one) => sum + one, 0) / known.length : null;
}

/** As a half-width; null where none was stated. */
function accuracyOf(role: string, { session }: StoredReport): { relative: number; absolute: number } | null {
  return session.columns.find((column) => column.role === role)?.accuracy_stated ?? null;
}
