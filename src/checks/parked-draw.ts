/**
 * Draw once asleep. The mean over all stands with enough sleep, weighted by how long each slept, is judged; a single
 * stand beyond the limit while the mean is within it is worth watching. A vehicle that never slept is judged by the least
 * that it drew: if even that is beyond the limit, no sleep of this log was within it.
 */
import type { Analysis } from '../analysis/model.ts';
import { there } from '../base/there.ts';
import { drawForReserveA, reserveCapacityMin } from '../battery/capacity.ts';
import { levelChange } from '../battery/change.ts';
import { decide, expand, rectangular, together } from '../battery/uncertainty.ts';
import type { Session } from '../manifest/session.ts';
import { standsCompared } from '../measures/account/stands-compared.ts';
import { awakeStretches } from '../measures/awake-stretches.ts';
import { liveAsleep } from '../measures/circuits-on.ts';
import { FED_S, fedS } from '../measures/fed.ts';
import { type CheckLimit, limitOf } from '../measures/limit.ts';
import { movement, movementFacts } from '../measures/movement.ts';
import { accuracyStated, expandedU } from '../measures/sensor.ts';
import { sleepsLate } from '../measures/sleep-times.ts';
import { mostBy, total } from '../measures/spans.ts';
import { PARKED_DRAW, SLEEP_WITHIN, sleepers, sleepTimeU } from '../measures/stands.ts';
import { leastAwakeDrawA, stayedAwake } from '../measures/stayed-awake.ts';
import { wakeWeight } from '../measures/wakes/wake-weight.ts';
import { shiftedZeroA } from '../measures/zero.ts';
import { type Answer, type Check, MEAN_PARKED_DRAW, type Weighed } from './check.ts';

/** A change of level is told from so many stands on, where chance makes one in fewer than one log of a hundred (see `levelChange`). */
const LEAST_STANDS = 10;
const LEAST_GAIN = 13.5;
/** And where it is worth telling: this share of the limit. Common practice, no source. */
const LEAST_CHANGE = 0.2;
/** Of a combined uncertainty: what makes more than half of its square. */
const MAIN_PART = Math.SQRT1_2;

type Asleep = {
  readonly creepT: number | null;
  readonly creepFromA: number | null;
  readonly creepToA: number | null;
  readonly creepS: number | null;
  readonly creepsUp: boolean;
  readonly coldC: number | null;
  readonly warmC: number | null;
  readonly coldA: number | null;
  readonly warmA: number | null;
  readonly withWarmth: boolean;
  readonly stands: number;
  readonly asleepS: number;
  readonly worstA: number;
  readonly worstUA: number;
  readonly worstT: number;
  readonly unseenA: number;
  readonly pulses: number;
  readonly pulsesA: number;
  /** It was awake for long, or woken at a cost that counts: asleep is not all that it was. */
  readonly usedMore: boolean;
  /** Of all stands that slept. */
  readonly meanA: number;
  readonly correctedA?: number;
  /** What a published rule by the size of the battery allows, where the limit is the default, A. */
  readonly sizeA: number | null;
  /** Monitored circuits that were live in all of the sleep. */
  readonly live: string;
  readonly changedT: number | null;
  readonly beforeA: number | null;
  readonly afterA: number | null;
  readonly timesLimit: number;
  readonly dayAh: number;
  readonly dayShare: number | null;
  readonly accuracyStated: boolean;
};

type NeverAsleep = {
  readonly stands: number;
  readonly awakeS: number;
  readonly timesLimit: number;
  readonly dayAh: number;
  readonly dayShare: number | null;
  readonly accuracyStated: boolean;
};

type Facts = Asleep | NeverAsleep;

export const check: Check<Facts> = {
  id: 'parked-draw',
  about: 'vehicle',
  core: true,
  side: 'max',
  after: (raised) => (wakesCostMore(raised) ? 'wake-ups' : undefined),
  compared: [{ name: 'sleep-draw', unit: 'A', better: 'lower', oneLimit: true, followed: true }, MEAN_PARKED_DRAW],
  gives: { key: 'parkedDraw', from: 'sleep-draw', margin: 0.01 },
  needs: ['current'],
  restsOn: ['asleep'],
  limits: [PARKED_DRAW],
  reasons: [
    'no-stand',
    'too-little-sleep',
    'never-asleep',
    'reads-charging',
    'fed',
    'zero-off',
    'reads-one-number',
    'limit-within-uncertainty',
  ],
  cautions: ['general', 'short-circuit', 'airbag'],
  answer(analysis, session) {
    const limit = limitOf(PARKED_DRAW, session);
    const stands = sleepers(analysis).map((stand) => ({
      start: stand.start,
      end: stand.end,
      asleepS: stand.asleepS,
      drawA: stand.sleepDrawA.value,
      u: stand.sleepDrawA.u,
      k: stand.sleepDrawA.k,
      U: expandedU(stand.sleepDrawA),
      unseenA: stand.unseenA,
      pulses: stand.pulses,
    }));
    const worst = mostBy(stands, (stand) => stand.drawA);
    if (!worst) return neverAsleep(analysis, session, limit);

    const asleepS = total(stands, (stand) => stand.asleepS);
    const value = total(stands, (stand) => stand.drawA * stand.asleepS) / asleepS;
    // The sensor's offset is the same in every stand, so the uncertainties add up and do not average out.
    const { u, k } = together(stands.map((stand) => ({ ...stand, weight: stand.asleepS })));
    const U = expand(u, k);
    const unseenA = total(stands, (stand) => stand.unseenA * stand.asleepS) / asleepS;
    const base = {
      measured: { value, unit: 'A', uncertainty: U, coverage: k },
      limit,
      facts: {
        stands: stands.length,
        asleepS,
        meanA: value,
        worstA: worst.drawA,
        worstUA: worst.U,
        worstT: worst.start,
        unseenA,
        pulses: total(stands, ({ pulses }) => pulses.seen),
        pulsesA: total(stands, ({ pulses }) => pulses.chargeAs) / asleepS,
        sizeA: allowedBySizeA(session),
        live: liveAsleep(analysis, session).join(', '),
        usedMore: usedMore(analysis, session),
        ...change(stands, limit),
        ...movementFacts(movement(analysis, session)),
        ...comparisons(value, limit, session),
      },
      evidence: [{ chart: 'parked-draw', from: worst.start, to: worst.end }],
    } as const;

    if (value + U < 0) {
      const isFed = sleepers(analysis).some((stand) => fedS(analysis, stand) >= FED_S);
      return { ...base, status: 'undecided', reason: isFed ? 'fed' : 'reads-charging' };
    }
    const decision = decide({ value, U, limit: limit.value, side: 'max' });
    if (decision === 'undecided') {
      const reason = expand(rectangular(unseenA)) > MAIN_PART * U ? 'reads-one-number' : 'limit-within-uncertainty';
      return { ...base, status: 'undecided', reason };
    }
    const corrected = value + shiftedZeroA(analysis, session);
    if (decide({ value: corrected, U, limit: limit.value, side: 'max' }) !== decision)
      return { ...base, facts: { ...base.facts, correctedA: corrected }, status: 'undecided', reason: 'zero-off' };
    if (decision === 'beyond') return { ...base, status: 'fault' };
    const { creep } = movement(analysis, session);
    const isCrept = creep && decide({ value: creep.toA, U, limit: limit.value, side: 'max' }) === 'beyond';
    // What it has crept up to is what it draws now.
    if (isCrept && creep.toA > creep.fromA)
      return {
        ...base,
        status: 'fault',
        variant: 'crept',
        measured: { ...base.measured, value: creep.toA },
        facts: { ...base.facts, ...comparisons(creep.toA, limit, session) },
        evidence: [{ chart: 'parked-draw', from: creep.start, to: creep.end }],
      };
    const worstBeyond = decide({ value: worst.drawA, U: worst.U, limit: limit.value, side: 'max' }) === 'beyond';
    return { ...base, status: worstBeyond ? 'watch' : 'clear' };
  },
};

function usedMore(analysis: Analysis, session: Session): boolean {
  const heldS = limitOf(SLEEP_WITHIN, session).value + sleepTimeU(analysis);
  return (
    stayedAwake(analysis, session).length > 0 ||
    standsCompared(analysis, session) !== null ||
    sleepsLate(analysis, session) ||
    awakeStretches(analysis, session).some(({ seconds }) => seconds > heldS) ||
    wakeWeight(analysis, session) === 'at-fault'
  );
}

/** Neither follows from the other; what costs more is to be found first. The mean of a long stand is that of both together. */
function wakesCostMore(raised: ReadonlyMap<string, Weighed>): boolean {
  const [wakes, draw] = [raised.get('wake-ups'), raised.get('parked-draw')];
  if (wakes?.status !== 'fault' || !wakes.measured || !draw?.measured) return false;
  return wakes.measured.value > 2 * draw.measured.value;
}

function neverAsleep(analysis: Analysis, session: Session, limit: CheckLimit): Answer<Facts> {
  if (analysis.stands.length === 0) return { status: 'undecided', limit, reason: 'no-stand' };
  const awake = stayedAwake(analysis, session);
  const longest = mostBy(awake, (stand) => stand.countedS);
  if (!longest) return { status: 'undecided', limit, reason: 'too-little-sleep' };

  const value = leastAwakeDrawA(analysis, session);
  const U = longest.meanDrawA && expandedU(longest.meanDrawA);
  const seen = { stands: awake.length, awakeS: longest.countedS };
  const base = {
    limit,
    evidence: [{ chart: 'parked-draw', from: longest.start, to: longest.end }],
  } as const;
  if (value === null) return { ...base, facts: seen, status: 'undecided', reason: 'never-asleep' };
  const facts = { ...seen, ...comparisons(value, limit, session) };
  const isBeyond = U !== null && decide({ value, U, limit: limit.value, side: 'max' }) === 'beyond';
  if (!isBeyond) return { ...base, facts, status: 'undecided', reason: 'never-asleep' };
  // A vehicle that never slept draws too much because of that.
  const measured = { value, unit: 'A', uncertainty: U, coverage: longest.meanDrawA?.k } as const;
  return { ...base, facts, measured, status: 'fault', variant: 'never-asleep', follows: 'sleep-time' };
}

/** Null where the session brings its own limit, or nothing tells the size. */
function allowedBySizeA({ battery, limits }: Session): number | null {
  if (limits.parkedDraw) return null;
  const { chemistry, capacityAh, reserveCapacityMin: stated } = battery;
  const minutes = stated ?? (capacityAh === undefined ? null : reserveCapacityMin(chemistry, capacityAh));
  return minutes === null ? null : drawForReserveA(minutes);
}

/** Where the draw took another level in the course of the log: the first stand of it, and both levels; nulls where it did not. */
function change(stands: readonly { readonly start: number; readonly drawA: number }[], limit: CheckLimit) {
  const found = stands.length < LEAST_STANDS ? null : levelChange(stands.map((stand) => stand.drawA));
  const isOne =
    found !== null &&
    found.gain > LEAST_GAIN &&
    Math.min(found.before, stands.length - found.before) > 1 &&
    Math.abs(found.meanAfter - found.meanBefore) > LEAST_CHANGE * limit.value;
  if (!isOne) return { changedT: null, beforeA: null, afterA: null };
  return { changedT: there(stands[found.before]).start, beforeA: found.meanBefore, afterA: found.meanAfter };
}

/** What the draw comes to beside the limit, in a day, and as a share of the battery. */
function comparisons(drawA: number, limit: CheckLimit, session: Session) {
  const { capacityAh } = session.battery;
  return {
    timesLimit: drawA / limit.value,
    dayAh: drawA * 24,
    dayShare: capacityAh ? (drawA * 24) / capacityAh : null,
    accuracyStated: accuracyStated('current', session),
  };
}
