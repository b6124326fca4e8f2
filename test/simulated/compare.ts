/**
 * Holds what an analysis found against the truth of a simulated log. What the sensor itself gets wrong (gain, offset,
 * a path round it) is put into the expectation: an analysis can do no better than its log.
 */

import type { Status } from '../../src/checks/check.ts';
import type { Scenario } from '../../src/demo/scenario.ts';
import type { Truth } from '../../src/demo/truth.ts';
import type { Observed } from './observed.ts';

/** Larger of the two counts. */
export const SLEEP_DRAW = { absoluteA: 0.0015, relative: 0.03 };
export const TIME_TO_SLEEP_S = 45;
export const CHARGE_RELATIVE = 0.03;
/** A sleep shorter than this gives no dependable sleeping draw. */
const ENOUGH_SLEEP_S = 1800;
const DRIVE_EDGE_S = 30;
const CRANK_EDGE_S = 1;

/** One line a disagreement; empty when all agrees. */
export function compare(observed: Observed, truth: Truth, scenario: Scenario): string[] {
  return [
    ...compareParked(observed, truth, scenario),
    ...compareDrives(observed, truth),
    ...compareCranks(observed, truth, scenario),
    ...compareWakes(observed, truth, scenario),
    ...compareCharge(observed, truth, scenario),
  ];
}

/** Answers of checks against what the scenario leaves no doubt about. */
export function compareFindings(findings: readonly { check: string; status: Status }[], truth: Truth): string[] {
  return Object.entries(truth.expected).flatMap(([check, allowed]) => {
    const found = findings.find((finding) => finding.check === check)?.status;
    return found && allowed.includes(found)
      ? []
      : [`${check}: ${found ?? 'missing'}, expected ${allowed.join(' or ')}`];
  });
}

function compareParked(observed: Observed, truth: Truth, scenario: Scenario): string[] {
  return truth.parked.flatMap((stand) => {
    if (stand.asleepS < ENOUGH_SLEEP_S) return [];
    const name = `stand from ${iso(stand.start)}`;
    const found = observed.parked.find((p) => overlap(p, stand) > 0.5 * (stand.end - stand.start));
    if (!found) return [`${name}: not found`];
    const faults: string[] = [];
    if (stand.sleepDrawA !== null && scenario.sensor.hasCurrent) {
      const expected = readingOf(stand.sleepDrawA, stand.asleepC ?? 20, scenario);
      const allowed = Math.max(SLEEP_DRAW.absoluteA, SLEEP_DRAW.relative * Math.abs(expected));
      const off = found.sleepDrawA === null ? Number.POSITIVE_INFINITY : Math.abs(found.sleepDrawA - expected);
      if (off > allowed) faults.push(`${name}: sleeping draw ${found.sleepDrawA} A, truly ${expected} A`);
    }
    if (found.keyOffInLog !== stand.keyOffInLog) faults.push(`${name}: key-off in log ${found.keyOffInLog}`);
    if (stand.timeToSleepS !== null && scenario.sensor.hasCurrent) {
      const off = found.timeToSleepS === null ? Number.POSITIVE_INFINITY : found.timeToSleepS - stand.timeToSleepS;
      if (Math.abs(off) > TIME_TO_SLEEP_S)
        faults.push(`${name}: asleep after ${found.timeToSleepS} s, truly ${stand.timeToSleepS.toFixed(0)} s`);
    }
    return faults;
  });
}

function compareDrives(observed: Observed, truth: Truth): string[] {
  const edges = (drives: readonly { start: number; end: number }[]) => drives.flatMap((d) => [d.start, d.end]);
  const gaps = truth.periods.filter((p) => p.kind === 'no-data');
  const seen = (t: number) => !gaps.some((g) => t > g.start - DRIVE_EDGE_S && t < g.end + DRIVE_EDGE_S);
  const found = edges(observed.drives).filter(seen);
  const truly = edges(truth.drives).filter(seen);
  return [
    ...truly.filter((t) => !near(found, t, DRIVE_EDGE_S)).map((t) => `edge of a drive at ${iso(t)}: not found`),
    ...found.filter((t) => !near(truly, t, DRIVE_EDGE_S)).map((t) => `edge of a drive at ${iso(t)}: there is none`),
  ];
}

/** Every crank must be met where the log is fast enough to show it; none may be made up at any rate. */
function compareCranks(observed: Observed, truth: Truth, { logging }: Scenario): string[] {
  const stepS = logging.crank?.stepS ?? logging.stepS;
  const found = observed.cranks.map((crank) => crank.at);
  const truly = truth.cranks.map((crank) => crank.at);
  const missed = stepS <= 0.1 ? truly.filter((t) => !near(found, t, CRANK_EDGE_S)) : [];
  const madeUp = found.filter((t) => !near(truly, t, Math.max(CRANK_EDGE_S, 2 * stepS)));
  return [
    ...missed.map((t) => `crank at ${iso(t)}: not found`),
    ...madeUp.map((t) => `crank at ${iso(t)}: there is none`),
  ];
}

/** Wakes of three rows or more, whole in the log, must be met, and nothing may be called a wake where the vehicle truly slept. */
function compareWakes(observed: Observed, truth: Truth, scenario: Scenario): string[] {
  if (!scenario.sensor.hasCurrent) return [];
  const stepS = scenario.logging.asleep?.stepS ?? scenario.logging.stepS;
  const awake = truth.periods.filter((p) => p.kind !== 'asleep');
  const meets = (a: { start: number; end: number }, b: { start: number; end: number }) => overlap(a, b) > 0;
  const found = observed.wakes.map((w) => ({ start: w.start - stepS, end: w.start + w.seconds + stepS }));
  const gaps = truth.periods.filter((p) => p.kind === 'no-data');
  const missed = truth.wakes.filter((w) => {
    const span = { start: w.start, end: w.start + w.seconds };
    return w.seconds > 3 * stepS && ![...found, ...gaps].some((other) => meets(other, span));
  });
  return [
    ...missed.map((w) => `wake at ${iso(w.start)} of ${w.seconds.toFixed(0)} s: not found`),
    ...found.filter((f) => !awake.some((a) => meets(f, a))).map((f) => `wake at ${iso(f.start)}: there is none`),
  ];
}

function compareCharge(observed: Observed, truth: Truth, scenario: Scenario): string[] {
  const { sensor } = scenario;
  if (!sensor.hasCurrent) return [];
  const factor = sensor.gain * (1 - sensor.bypass);
  const unseenAh = sensorAh(truth, scenario) + 0.02;
  const check = (what: string, found: number, truly: number, moreAh: number) =>
    Math.abs(found - truly * factor) > CHARGE_RELATIVE * truly + unseenAh + moreAh
      ? [`charge ${what}: ${found} Ah, truly ${truly * factor} Ah`]
      : [];
  return [
    ...check('in', observed.chargeInAh, truth.totals.chargeInAh, 0),
    ...check('out', observed.chargeOutAh, truth.totals.chargeOutAh, crankAh(truth, scenario)),
  ];
}

/** What offset and noise alone add up to: noise about a small draw counts as charge both ways. */
function sensorAh(truth: Truth, scenario: Scenario): number {
  const { offsetA, driftA, noiseA } = scenario.sensor;
  const hours = truth.periods.reduce((sum, p) => sum + (p.kind === 'no-data' ? 0 : p.end - p.start), 0) / 3600;
  const farC = Math.max(0, ...truth.parked.map((p) => Math.abs((p.asleepC ?? 20) - 20)));
  const noiseAh = truth.parked.map((p) => {
    const sigmas = readingOf(p.sleepDrawA ?? 0, p.asleepC ?? 20, scenario) / noiseA;
    return (noiseA * (Math.exp(-(sigmas ** 2) / 2) / Math.sqrt(2 * Math.PI)) * p.asleepS) / 3600;
  });
  return (Math.abs(offsetA) + Math.abs(driftA) * farC) * hours + noiseAh.reduce((sum, ah) => sum + ah, 0);
}

/** Charge of cranks that fall between the rows of a slow log, or lie beyond the sensor's range. */
function crankAh(truth: Truth, { logging, sensor }: Scenario): number {
  const slow = (logging.crank?.stepS ?? logging.stepS) > 0.1;
  const unseen = truth.cranks.filter((crank) => slow || crank.ampsPeak > sensor.rangeA);
  return unseen.reduce((sum, crank) => sum + (crank.ampsPeak * crank.seconds) / 3600, 0);
}

/** What the log would show for a true draw. */
function readingOf(drawA: number, tempC: number, { sensor }: Scenario): number {
  return drawA * (1 - sensor.bypass) * sensor.gain - sensor.offsetA - sensor.driftA * (tempC - 20);
}

function near(times: readonly number[], t: number, allowedS: number): boolean {
  return times.some((other) => Math.abs(other - t) <= allowedS);
}

function overlap(a: { start: number; end: number }, b: { start: number; end: number }): number {
  return Math.min(a.end, b.end) - Math.max(a.start, b.start);
}

function iso(t: number): string {
  return new Date(t * 1000).toISOString().slice(0, 19);
}
