/** Wakes while parked: how often, how regularly, at what cost. What makes them a fault says `measures/wakes/wake-weight.ts`. */
import type { Analysis } from '../analysis/model.ts';
import { USUAL_CAPACITY_AH } from '../battery/capacity.ts';
import { median } from '../battery/statistics.ts';
import type { Session } from '../manifest/session.ts';
import { heldLoads } from '../measures/account/held-loads.ts';
import { limitOf } from '../measures/limit.ts';
import { expandedU } from '../measures/sensor.ts';
import { mostBy } from '../measures/spans.ts';
import { PARKED_DRAW } from '../measures/stands.ts';
import { stayedAwake } from '../measures/stayed-awake.ts';
import { afterKeyOff } from '../measures/wakes/after-key-off.ts';
import { atOneTime } from '../measures/wakes/one-time-of-day.ts';
import { wakePatterns } from '../measures/wakes/patterns.ts';
import { type WakeDraw, wakeDraw } from '../measures/wakes/wake-draw.ts';
import { wakeParts } from '../measures/wakes/wake-parts.ts';
import { wakeWeight } from '../measures/wakes/wake-weight.ts';
import { type Check, MEAN_PARKED_DRAW } from './check.ts';

/** Fewer wakes than this are few. Common practice, no source. */
const FEW = 10;
/** With so many times as many wakes as the costliest pattern has, its period is not theirs. */
const MIXED = 1.5;
/** Of a combined uncertainty: what makes more than half of its square. */
const MAIN_PART = Math.SQRT1_2;

type Facts = {
  readonly wakes: number;
  readonly perDay: number;
  /** A day, when said in whole numbers. */
  readonly once: boolean;
  readonly asleepS: number;
  readonly sleepA: number;
  readonly sleepUA: number;
  readonly wakesA: number;
  readonly wakesUA: number;
  readonly meanA: number;
  readonly meanUA: number;
  readonly dayAh: number;
  readonly dayShare: number | null;
  readonly patterns: number;
  /** Other wakes than those of the costliest pattern are many. */
  readonly mixed: boolean;
  readonly patternWakes: number;
  readonly others: number;
  readonly periodS: number | null;
  /** The costliest come at one time of day: then somebody may have set it. */
  readonly daily: boolean;
  /** On for so long, so often and with so much as a fridge or a heater is by its thermostat. */
  readonly cycles: boolean;
  /** A hybrid or electric vehicle whose converter was never seen to fill the battery while parked. */
  readonly unfed: boolean;
  readonly jitterS: number | null;
  readonly lengthS: number | null;
  readonly patternA: number | null;
  readonly patternAh: number | null;
  readonly channel: string | null;
  /** The wake that took most: when, for how long, and what, where that is much of the battery. */
  readonly dearestT: number | null;
  readonly dearestS: number | null;
  readonly dearestAh: number | null;
  /** Only of the variant `after-key-off`: how long after it, for how long, what one costs, and how many were seen. */
  readonly lagS?: number;
  readonly onceS?: number;
  readonly onceAh?: number;
  readonly times?: number;
};

export const check: Check<Facts> = {
  id: 'wake-ups',
  about: 'vehicle',
  core: true,
  side: 'max',
  compared: [MEAN_PARKED_DRAW, { name: 'wakes-per-day', unit: '1/d', better: 'lower', oneLimit: true }],
  // One limit judges the draw asleep and the mean with its wakes, so it is taken from the larger.
  gives: { key: 'parkedDraw', from: MEAN_PARKED_DRAW.name, margin: 0.01 },
  needs: ['current'],
  restsOn: ['asleep'],
  limits: [{ ...PARKED_DRAW, applies: 'on the mean of a long stand, wakes included' }],
  reasons: [
    'no-stand',
    'too-little-sleep',
    'never-asleep',
    'reads-charging',
    'short-wakes',
    'few-wakes',
    'scattered-wakes',
    'limit-within-uncertainty',
  ],
  cautions: ['general', 'short-circuit', 'airbag'],
  answer(analysis, session) {
    const limit = limitOf(PARKED_DRAW, session);
    const draw = wakeDraw(analysis, session);
    const weight = wakeWeight(analysis, session);
    if (!draw || !weight) {
      const awake = stayedAwake(analysis, session).length > 0 && !draw;
      const reason = analysis.stands.length === 0 ? 'no-stand' : awake ? 'never-asleep' : 'too-little-sleep';
      return { status: 'undecided', limit, reason };
    }
    const facts = factsOf(analysis, session, draw);
    const evidence = [{ chart: 'wake-ups', from: analysis.start, to: analysis.end }];
    const { wakesA, meanA } = draw;
    const mean = {
      measured: { value: meanA.value, unit: 'A', uncertainty: facts.meanUA, coverage: meanA.k },
      limit,
      facts,
      evidence,
    } as const;
    const added = {
      ...mean,
      measured: { value: wakesA.value, unit: 'A', uncertainty: facts.wakesUA, coverage: wakesA.k },
    } as const;
    const once = afterKeyOff(analysis, session);
    if (draw.wakes.length === 0 && once) {
      const ofOne = { lagS: once.lagS, onceS: once.seconds, onceAh: once.chargeAh, times: once.wakes.size };
      return { ...added, status: 'clear', variant: 'after-key-off', facts: { ...facts, ...ofOne } };
    }
    if (draw.wakes.length === 0)
      return { ...added, status: 'clear', variant: wasWoken(analysis, session) ? 'only-long' : 'none' };
    switch (weight) {
      case 'at-fault':
        return { ...mean, status: 'fault', variant: facts.cycles ? 'cycles' : undefined };
      case 'much':
        return { ...mean, status: 'watch' };
      case 'little':
        return { ...added, status: 'clear' };
      case 'reads-charging':
        return { ...mean, status: 'undecided', reason: 'reads-charging' };
      case 'open': {
        return { ...mean, status: 'undecided', reason: whyOpen(draw) };
      }
    }
  },
};

/** By something that stayed on, if by nothing else: a load to key-on is no wake, and yet it did not sleep on. */
const wasWoken = (analysis: Analysis, session: Session): boolean =>
  analysis.wakes.length > 0 || heldLoads(analysis, session).some(({ from }) => from === 'within');

/** What most of the doubt comes from: the rows, the count of wakes, or the sensor. */
function whyOpen({ wakes, wakesA, meanA, edgesUA }: WakeDraw): string {
  if (!(wakesA.u > MAIN_PART * meanA.u)) return 'limit-within-uncertainty';
  if (edgesUA > MAIN_PART * wakesA.u) return 'short-wakes';
  return wakes.length < FEW ? 'few-wakes' : 'scattered-wakes';
}

/** At least this share of each period, no longer a period than this, s, and at least this much, A. Common practice, no source. */
const CYCLE = { share: 0.1, mostS: 3 * 3600, leastA: 1 };
/** Of so many intervals this share lies within this part of their middle one: then it is the usual one. Common practice, no source. */
const USUAL_INTERVAL = { least: 20, share: 0.75, apart: 0.5 };
/** Of the capacity: a wake that takes more is told by itself. Common practice, no source. */
const DEAR = 0.03;

/** What a module does when it wakes takes a minute or two; a compressor or a heating element runs for a part of its cycle. */
function isByThermostat(pattern: WakeDraw['pattern'], starts: readonly number[]): boolean {
  const periodS = pattern?.periodS ?? usualIntervalS(starts);
  if (!pattern || periodS === null || periodS > CYCLE.mostS) return false;
  return pattern.seconds >= CYCLE.share * periodS && pattern.meanA >= CYCLE.leastA;
}

/** Warmth of the day, and the sun on a panel, move a thermostat's cycle: then it has a usual interval and no period. Null without one. */
function usualIntervalS(starts: readonly number[]): number | null {
  const sorted = starts.toSorted((a, b) => a - b);
  const gaps = sorted.slice(1).map((t, k) => t - (sorted[k] ?? t));
  if (gaps.length < USUAL_INTERVAL.least) return null;
  const middle = median(gaps);
  const near = gaps.filter((gap) => Math.abs(gap - middle) <= USUAL_INTERVAL.apart * middle);
  return near.length >= USUAL_INTERVAL.share * gaps.length ? middle : null;
}

function factsOf(analysis: Analysis, session: Session, draw: WakeDraw): Facts {
  const { wakes, pattern, seenS, asleepS, sleepA, wakesA, meanA } = draw;
  const { capacityAh } = session.battery;
  const dayAh = wakesA.value * 24;
  const parts = wakeParts(analysis, session);
  const starts = pattern?.parts.flatMap((k) => parts[k]?.start ?? []) ?? [];
  const dearest = mostBy(wakes, ({ chargeAh }) => chargeAh);
  const isDear = dearest !== undefined && dearest.chargeAh >= DEAR * (capacityAh ?? USUAL_CAPACITY_AH);
  const ofPattern = new Set(pattern?.parts.flatMap((k) => parts[k]?.wake ?? []));
  return {
    wakes: wakes.length,
    perDay: (wakes.length * 86_400) / seenS,
    once: Math.round((wakes.length * 86_400) / seenS) <= 1,
    asleepS,
    sleepA: sleepA.value,
    sleepUA: expandedU(sleepA),
    wakesA: wakesA.value,
    wakesUA: expandedU(wakesA),
    meanA: meanA.value,
    meanUA: expandedU(meanA),
    dayAh,
    dayShare: capacityAh ? dayAh / capacityAh : null,
    patterns: wakePatterns(analysis, session).length,
    mixed: wakes.length > MIXED * (pattern?.count ?? 0),
    patternWakes: pattern?.count ?? 0,
    others: wakes.filter((wake) => !ofPattern.has(analysis.wakes.indexOf(wake))).length,
    periodS: pattern?.periodS ?? null,
    daily: atOneTime(starts, session),
    // A circuit that is named is asked about, and no fridge.
    cycles: !pattern?.channel && isByThermostat(pattern, starts),
    unfed: session.vehicle.powertrain !== 'combustion' && analysis.topUps.length === 0,
    jitterS: pattern?.jitterS ?? null,
    lengthS: pattern?.seconds ?? null,
    patternA: pattern?.meanA ?? null,
    patternAh: pattern?.chargeAhPerDay ?? null,
    channel: pattern?.channel ?? null,
    dearestT: isDear ? dearest.start : null,
    dearestS: isDear ? dearest.seconds : null,
    dearestAh: isDear ? dearest.chargeAh : null,
  };
}
