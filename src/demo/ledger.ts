/** Adds up the truth while the simulation runs, in steps that never cross an edge of the plan. */

import { expectedStatuses } from './expected.ts';
import { makeLevels, type Step } from './levels.ts';
import type { Plan, PlannedCrank, Segment } from './plan.ts';
import type { Scenario, Stretch } from './scenario.ts';
import type { TrueCrank, TrueParked, TruePeriod, TrueWake, Truth } from './truth.ts';

export interface Ledger {
  /** Edges that a step may not cross, in order. */
  readonly edges: readonly number[];
  add(step: Step, crank: PlannedCrank | undefined, ohm: number, fastOhm: number): void;
  close(charge: { start: number; end: number }): Truth;
}

interface Sum {
  seconds: number;
  inAs: number;
  outAs: number;
}

interface Sums {
  readonly spans: readonly Stretch[];
  readonly sums: Sum[];
  next: number;
}

const AFTER_INRUSH_S = 0.3;
/** A rest is told by the mean of its last part, s. */
const RESTED_S = 600;

export function makeLedger(scenario: Scenario, plan: Plan): Ledger {
  const periods = sumsOver(plan.segments);
  const parked = sumsOver(plan.parked);
  const drives = sumsOver(plan.drives);
  const wakes = sumsOver(plan.wakes);
  const wakePeaks = plan.wakes.map(() => 0);
  const asleep = plan.parked.map(() => ({ seconds: 0, drawAs: 0, warmthCs: 0 }));
  const levels = makeLevels(plan);
  const cranks = new Map<PlannedCrank, CrankNotes>();
  const restedV = plan.parked.map((): number | null => null);
  let rest: { readonly stand: number; readonly segment: Segment; readonly parts: RestPart[] } | undefined;
  let last = { v: Number.NaN, i: Number.NaN };
  const edges = [
    ...new Set(
      [...plan.segments, ...plan.parked, ...plan.drives, ...plan.wakes, ...plan.cranks].flatMap((s) => [s.from, s.to]),
    ),
  ].sort((a, b) => a - b);

  function add(step: Step, crank: PlannedCrank | undefined, ohm: number, fastOhm: number): void {
    const segment = plan.segments[at(periods, step.from)];
    if (segment.kind !== 'no-data') {
      put(periods, step);
      put(drives, step);
      if (segment.kind !== 'on-charger' && segment.kind !== 'disconnected' && !inTopUp(step.from)) put(parked, step);
      putWake(step);
      putAsleep(segment, step);
      levels.add(step, segment, at(drives, step.from), at(parked, step.from));
    }
    if (!crank) last = step;
    else if (segment.kind !== 'no-data') noteCrank(cranks, { crank, step, before: last, ohm, fastOhm });
  }

  function inTopUp(t: number): boolean {
    return (scenario.topUps ?? []).some((up) => t >= up.from && t < up.to);
  }

  function putWake(step: Step): void {
    const k = at(wakes, step.from);
    if (k < 0) return;
    wakes.sums[k].seconds += step.dt;
    wakes.sums[k].outAs += step.aboveA * step.dt;
    wakePeaks[k] = Math.max(wakePeaks[k], step.aboveA);
  }

  function putAsleep(segment: Segment, step: Step): void {
    if (segment.kind !== 'asleep') return;
    const k = at(parked, step.from);
    if (k < 0) return;
    asleep[k].seconds += step.dt;
    asleep[k].drawAs += step.baseA * step.dt;
    asleep[k].warmthCs += step.tempC * step.dt;
    if (rest?.segment !== segment) {
      endRest();
      rest = { stand: k, segment, parts: [] };
    }
    addToRest(rest.parts, step);
  }

  function endRest(): void {
    if (rest) restedV[rest.stand] = meanV(rest.parts);
  }

  function close(charge: { start: number; end: number }): Truth {
    const { start } = scenario;
    endRest();
    const truePeriods: TruePeriod[] = plan.segments.map((s, k) => ({
      kind: s.kind,
      start: start + s.from,
      end: start + s.to,
      ...chargeOf(periods.sums[k]),
    }));
    const trueParked: TrueParked[] = plan.parked.map((p, k) => ({
      start: start + p.from,
      end: start + p.to,
      keyOffInLog: p.keyOff,
      keyOnInLog: p.keyOn,
      timeToSleepS: p.timeToSleepS,
      asleepS: asleep[k].seconds,
      sleepDrawA: asleep[k].seconds > 0 ? asleep[k].drawAs / asleep[k].seconds : null,
      asleepC: asleep[k].seconds > 0 ? asleep[k].warmthCs / asleep[k].seconds : null,
      meanDrawA: parked.sums[k].seconds > 0 ? parked.sums[k].outAs / parked.sums[k].seconds : null,
      chargeOutAh: parked.sums[k].outAs / 3600,
      restedV: restedV[k],
      wakes: plan.wakes.filter((w) => w.from >= p.from && w.to <= p.to).length,
      ...levels.stand(k),
    }));
    const trueWakes: TrueWake[] = plan.wakes.map((w, k) => ({
      start: start + w.from,
      seconds: w.to - w.from,
      peakA: wakePeaks[k],
      meanA: wakes.sums[k].seconds > 0 ? wakes.sums[k].outAs / wakes.sums[k].seconds : 0,
      chargeAh: wakes.sums[k].outAs / 3600,
      channels: w.channels,
    }));
    const counted = truePeriods.filter((p) => p.kind !== 'on-charger' && p.kind !== 'disconnected');
    const truth = {
      periods: truePeriods,
      parked: trueParked,
      wakes: trueWakes,
      cranks: [...cranks].map(([crank, notes]) => crankOf(crank, notes, start)),
      drives: plan.drives.map((d, k) => ({
        start: start + d.from,
        end: start + d.to,
        ...chargeOf(drives.sums[k]),
        ...levels.drive(k),
      })),
      topUps: (scenario.topUps ?? []).map((u) => ({ start: start + u.from, end: start + u.to })),
      totals: {
        chargeInAh: counted.reduce((sum, p) => sum + p.chargeInAh, 0),
        chargeOutAh: counted.reduce((sum, p) => sum + p.chargeOutAh, 0),
      },
      charge,
      extremes: levels.extremes(),
    };
    return { ...truth, expected: expectedStatuses(scenario, truth) };
  }

  return { edges, add, close };
}

interface CrankNotes {
  readonly voltsBefore: number;
  readonly ampsBefore: number;
  readonly ohm: number;
  readonly fastOhm: number;
  readonly temperatureC: number;
  voltsMin: number;
  ampsPeak: number;
  plateauVs: number;
  plateauAs: number;
  plateauS: number;
}

interface CrankStep {
  readonly crank: PlannedCrank;
  readonly step: Step;
  /** The last readings before it. */
  readonly before: { readonly v: number; readonly i: number };
  readonly ohm: number;
  readonly fastOhm: number;
}

function noteCrank(cranks: Map<PlannedCrank, CrankNotes>, { crank, step, before, ohm, fastOhm }: CrankStep): void {
  let notes = cranks.get(crank);
  if (!notes) {
    const sums = { voltsMin: before.v, ampsPeak: 0, plateauVs: 0, plateauAs: 0, plateauS: 0 };
    notes = { voltsBefore: before.v, ampsBefore: -before.i, ohm, fastOhm, temperatureC: step.tempC, ...sums };
    cranks.set(crank, notes);
  }
  notes.voltsMin = Math.min(notes.voltsMin, step.v);
  notes.ampsPeak = Math.max(notes.ampsPeak, -step.i);
  if (step.from - crank.from < AFTER_INRUSH_S) return;
  notes.plateauVs += step.v * step.dt;
  notes.plateauAs -= step.i * step.dt;
  notes.plateauS += step.dt;
}

function crankOf(crank: PlannedCrank, notes: CrankNotes, start: number): TrueCrank {
  return {
    at: start + crank.from,
    seconds: crank.to - crank.from,
    voltsBefore: notes.voltsBefore,
    ampsBefore: notes.ampsBefore,
    voltsMin: notes.voltsMin,
    voltsCranking: notes.plateauS > 0.02 ? notes.plateauVs / notes.plateauS : null,
    ampsCranking: notes.plateauS > 0.02 ? notes.plateauAs / notes.plateauS : null,
    temperatureC: notes.temperatureC,
    ampsPeak: notes.ampsPeak,
    resistanceOhm: notes.ohm,
    resistanceHighOhm: notes.ohm + notes.fastOhm,
    started: crank.starts,
  };
}

/** Some seconds of a rest. */
interface RestPart {
  readonly from: number;
  seconds: number;
  voltSeconds: number;
}

/** Adds a step to the last parts of a rest, of which no more are kept than are asked for. */
function addToRest(parts: RestPart[], { from, dt, v }: Step): void {
  let last = parts.at(-1);
  if (!last || from >= last.from + RESTED_S / 60) {
    last = { from, seconds: 0, voltSeconds: 0 };
    parts.push(last);
  }
  last.seconds += dt;
  last.voltSeconds += v * dt;
  while (parts[0].from < from + dt - RESTED_S) parts.shift();
}

function meanV(parts: readonly RestPart[]): number {
  const sum = (of: (part: RestPart) => number) => parts.reduce((total, part) => total + of(part), 0);
  return sum((part) => part.voltSeconds) / sum((part) => part.seconds);
}

function sumsOver(spans: readonly Stretch[]): Sums {
  return { spans, sums: spans.map(() => ({ seconds: 0, inAs: 0, outAs: 0 })), next: 0 };
}

/** Index of the span that holds `t`, −1 where none does; `t` never goes back. */
function at(sums: Sums, t: number): number {
  while (sums.next < sums.spans.length && sums.spans[sums.next].to <= t) sums.next++;
  const span = sums.spans[sums.next];
  return span && span.from <= t ? sums.next : -1;
}

function put(sums: Sums, step: Step): void {
  const k = at(sums, step.from);
  if (k < 0) return;
  const sum = sums.sums[k];
  sum.seconds += step.dt;
  if (step.i > 0) sum.inAs += step.i * step.dt;
  else sum.outAs -= step.i * step.dt;
}

function chargeOf(sum: Sum): { chargeInAh: number; chargeOutAh: number } {
  return { chargeInAh: sum.inAs / 3600, chargeOutAh: sum.outAs / 3600 };
}
