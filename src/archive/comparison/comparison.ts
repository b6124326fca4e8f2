/**
 * `comparison.json`, schema `standstill-comparison/1`: what changed between two sessions, and whether the change is larger
 * than what the two logs leave open. Made from two `report.json`; opens no log.
 *
 * Uncertainty of a difference: the root sum of squares of both (JCGM 100, 5.1.2). Where one logger made both logs, part of
 * its error is in both and cancels (JCGM 100, 5.2.2 with a positive correlation); a report does not say which logger it
 * was, so nothing is taken off, and the uncertainty given is on the safe side.
 */

import { UserError } from '../../base/problem.ts';
import { combine } from '../../battery/uncertainty.ts';
import type { Compared, Status } from '../../checks/check.ts';
import { checkOf } from '../../checks/registry.ts';
import { MEASURES, type Measure, type MeasureValue, type Reading, reading } from '../measures.ts';
import { modelKey } from '../models/models.ts';
import type { StoredReport } from '../stored-report.ts';
import type { Overall, Reason } from './reasons.ts';

export type Verdict = 'cured' | 'not-shown' | 'worse' | 'undecided';

export interface ComparedMeasure {
  readonly name: string;
  readonly unit: Compared['unit'];
  readonly before: MeasureValue;
  readonly after: MeasureValue;
  /** After less before; null where either is not known. */
  readonly difference: number | null;
  /** Expanded, k = 2. */
  readonly differenceUncertainty: number | null;
  readonly verdict: Verdict;
  readonly reason: Reason;
  /** The two readings in full, for words and pictures. */
  readonly readings: { readonly before: Reading; readonly after: Reading };
}

export interface FindingChange {
  readonly check: string;
  readonly name: string;
  readonly before: StoredReport['findings'][number]['status'];
  readonly after: StoredReport['findings'][number]['status'];
  readonly titleBefore: string;
  readonly titleAfter: string;
  /** gone: was a fault or worth watching, is in order; new: the other way round; open: one of the two is undecided. */
  readonly change: 'gone' | 'new' | 'better' | 'worse' | 'stays' | 'open';
}

export interface Comparison {
  readonly before: StoredReport;
  readonly after: StoredReport;
  readonly verdict: Verdict;
  readonly reason: Overall;
  /** In the order of `MEASURES`; one that neither log has is left out. */
  readonly measures: readonly ComparedMeasure[];
  /** Checks that answered differently, or found something both times. */
  readonly findings: readonly FindingChange[];
}

/** Cranks further apart than this in temperature are not compared, K. Common practice, no source. */
const TEMPERATURE_APART_K = 10;

/** Throws a `UserError` where the two cannot be a before and an after. */
export function compareReports(before: StoredReport, after: StoredReport): Comparison {
  const same = sameVehicle(before, after);
  if (before.session.id === after.session.id)
    throw new UserError(`Both are the session "${before.session.id}"; a comparison takes two.`);
  if (same && Date.parse(before.log.start) > Date.parse(after.log.start))
    throw new UserError(
      `"${before.session.id}" was logged after "${after.session.id}" (${before.log.start} and ${after.log.start}): exchange the two.`,
    );
  const beside = !same && isBaselineOf(before, after);
  const measures = MEASURES.map((measure) => compareMeasure(measure, before, after, beside)).filter(
    ({ before: b, after: a }) => b.value !== null || a.value !== null,
  );
  const findings = findingChanges(before, after);
  return { before, after, measures, findings, ...(beside ? BESIDE : overall(same, measures, findings, before, after)) };
}

/** A healthy vehicle of the model cures nothing: what it shows is how the other differs from it. */
const BESIDE = { verdict: 'undecided', reason: 'model-baseline' } as const;

function isBaselineOf(before: StoredReport, after: StoredReport): boolean {
  const key = modelKey(before.session.vehicle);
  const sound = before.findings.every(({ status }) => status !== 'fault');
  return key !== null && key === modelKey(after.session.vehicle) && before.session.purpose === 'baseline' && sound;
}

function compareMeasure(measure: Measure, before: StoredReport, after: StoredReport, beside: boolean): ComparedMeasure {
  const readings = { before: reading(measure.name, before), after: reading(measure.name, after) };
  const [b, a] = [readings.before, readings.after];
  const known = b.value !== null && a.value !== null;
  const difference = known && b.value !== null && a.value !== null ? a.value - b.value : null;
  const differenceUncertainty =
    difference !== null && b.uncertainty !== null && a.uncertainty !== null
      ? combine(b.uncertainty, a.uncertainty)
      : null;
  const value = ({ value, uncertainty }: Reading): MeasureValue => ({ value, uncertainty });
  return {
    name: measure.name,
    unit: measure.unit,
    before: value(b),
    after: value(a),
    difference,
    differenceUncertainty,
    ...(beside
      ? setBeside(readings, difference, differenceUncertainty)
      : judge(measure, readings, difference, differenceUncertainty)),
    readings,
  };
}

interface Judged {
  readonly verdict: Verdict;
  readonly reason: Reason;
}
const say = (verdict: Verdict, reason: Reason): Judged => ({ verdict, reason });

/** Whether one vehicle differs from another of its kind. */
function setBeside(
  readings: ComparedMeasure['readings'],
  difference: number | null,
  uncertainty: number | null,
): Judged {
  const open = notComparable(readings, difference, uncertainty);
  if (open) return open;
  return say('undecided', Math.abs(difference ?? 0) > (uncertainty ?? 0) ? 'differs' : 'alike');
}

function notComparable(
  { before, after }: ComparedMeasure['readings'],
  difference: number | null,
  uncertainty: number | null,
): Judged | null {
  if (difference === null) return say('undecided', 'no-value');
  if (uncertainty === null) return say('undecided', 'no-uncertainty');
  const apartK = Math.abs((before.temperatureC ?? 0) - (after.temperatureC ?? 0));
  const temperaturesKnown = before.temperatureC !== null && after.temperatureC !== null;
  return temperaturesKnown && apartK > TEMPERATURE_APART_K ? say('undecided', 'temperatures-differ') : null;
}

/** Cured: it was a fault before, is none after, and the difference is larger than its uncertainty. */
function judge(
  measure: Measure,
  { before, after }: ComparedMeasure['readings'],
  difference: number | null,
  uncertainty: number | null,
): Judged {
  const open = notComparable({ before, after }, difference, uncertainty);
  if (open || difference === null || uncertainty === null) return open ?? say('undecided', 'no-value');
  const gain = measure.better === 'lower' ? -difference : difference;
  const [better, worse] = [gain > uncertainty, -gain > uncertainty];
  const ails = after.status === 'fault' || after.status === 'watch';
  if (worse && ails) return say('worse', 'worse');
  if (before.status === 'undecided') return say('undecided', 'before-open');
  if (after.status === 'undecided') return say('undecided', 'after-open');
  if (before.status !== 'fault')
    return after.status === 'fault'
      ? say('undecided', 'new-fault-within-uncertainty')
      : say('not-shown', 'no-fault-before');
  if (after.status === 'fault') return say('not-shown', better ? 'still-fault-less' : 'still-fault');
  if (measure.oneLimit && before.limit?.value !== after.limit?.value) return say('undecided', 'limits-differ');
  if (worse) return say('not-shown', 'moved-the-wrong-way');
  if (!better) return say('not-shown', 'within-uncertainty');
  return after.status === 'watch' ? say('not-shown', 'watch-after') : say('cured', 'cured');
}

/**
 * Of the whole: what ailed the vehicle before must be shown cured, one and all. Causes count; what followed from another
 * finding goes with it.
 */
function overall(
  same: boolean,
  measures: readonly ComparedMeasure[],
  findings: readonly FindingChange[],
  before: StoredReport,
  after: StoredReport,
): { readonly verdict: Verdict; readonly reason: Overall } {
  if (!same) return { verdict: 'undecided', reason: 'another-vehicle' };
  if (measures.some((one) => one.verdict === 'worse')) return { verdict: 'worse', reason: 'some-worse' };
  const wasFault = measures.filter((one) => one.readings.before.status === 'fault');
  const judged = new Set(MEASURES.flatMap(({ checks }) => checks));
  const status = (check: string) => after.findings.find((finding) => finding.check === check)?.status ?? 'undecided';
  const others = before.findings.filter(
    ({ check, status: was, follows }) =>
      was === 'fault' && follows === null && !judged.has(check) && !checkOf(check)?.inTrain,
  );
  if (wasFault.length === 0 && others.length === 0) return { verdict: 'not-shown', reason: 'nothing-to-cure' };
  if (others.some(({ check }) => status(check) === 'fault')) return { verdict: 'not-shown', reason: 'some-not-shown' };
  if (wasFault.some((one) => one.verdict === 'not-shown')) return { verdict: 'not-shown', reason: 'some-not-shown' };
  if (wasFault.some((one) => one.verdict === 'undecided')) return { verdict: 'undecided', reason: 'some-undecided' };
  if (others.length > 0) return { verdict: 'undecided', reason: 'not-measured' };
  const fresh = findings.some((one) => one.after === 'fault' && one.before !== 'fault');
  return { verdict: 'cured', reason: fresh ? 'cured-new-fault' : 'all-cured' };
}

function sameVehicle(before: StoredReport, after: StoredReport): boolean {
  const [b, a] = [before.session.vehicle, after.session.vehicle];
  if (b.vin !== null && a.vin !== null) return b.vin === a.vin;
  if (b.registration !== null && a.registration !== null) return b.registration === a.registration;
  return b.description === a.description;
}

const AILS: Readonly<Record<Status, number>> = { clear: 0, undecided: 0, watch: 1, fault: 2 };

function findingChanges(before: StoredReport, after: StoredReport): FindingChange[] {
  return after.findings.flatMap((now) => {
    const was = before.findings.find((finding) => finding.check === now.check);
    if (!was || (was.status === now.status && (was.status === 'clear' || was.status === 'undecided'))) return [];
    const { check, name } = now;
    const titles = { titleBefore: was.title, titleAfter: now.title };
    return [
      { check, name, before: was.status, after: now.status, ...titles, change: changeOf(was.status, now.status) },
    ];
  });
}

function changeOf(was: Status, is: Status): FindingChange['change'] {
  if (was === 'undecided' || is === 'undecided') return 'open';
  if (was === is) return 'stays';
  if (is === 'clear') return 'gone';
  if (was === 'clear') return 'new';
  return AILS[is] < AILS[was] ? 'better' : 'worse';
}
