/**
 * Time from key-off to sleep. A stand that was long enough and never slept is a fault. One that slept late is a fault
 * where it is not the only one of several, or where it took more than twice the limit; a single late one is worth
 * watching, since somebody may have sat in the vehicle. So is one that slept in time, but took far more until then than others did.
 */
import type { Analysis, Stand } from '../analysis/model.ts';
import { median } from '../battery/statistics.ts';
import { decide } from '../battery/uncertainty.ts';
import type { Session } from '../manifest/session.ts';
import { noteAt, standsCompared } from '../measures/account/stands-compared.ts';
import { namedForSettlings } from '../measures/circuits/matches.ts';
import { settlings } from '../measures/circuits/settlings.ts';
import { costlySettlings } from '../measures/costly-settlings.ts';
import { limitOf } from '../measures/limit.ts';
import { sleepTimes } from '../measures/sleep-times.ts';
import { mostBy } from '../measures/spans.ts';
import { SLEEP_WITHIN } from '../measures/stands.ts';
import type { Check } from './check.ts';

type Facts = {
  readonly stands: number;
  readonly sleptStands: number;
  readonly awakeStands: number;
  readonly slowestS: number | null;
  readonly slowestT: number | null;
  /** What the technician noted then. */
  readonly note: string | null;
  /** What goes out until it sleeps, median, Ah. */
  readonly settlingAh: number | null;
  /** Within it half of them slept. */
  readonly typicalS: number | null;
  /** Of a vehicle without computers that fall asleep. */
  readonly atOnce: boolean;
  /** Those that took too long, and whether others did not. */
  readonly lateStands: number;
  readonly atTimes: boolean;
  readonly awakeS: number | null;
  readonly awakeT: number | null;
  readonly awakeDrawA: number | null;
  readonly severalAwake: boolean;
  /** Something stayed on in each of those that did not sleep in time. */
  readonly byLoad: boolean;
  /** The circuit that goes with the slow ones, hardly by chance. */
  readonly named: string | null;
  /** Only of the variant `costly`: how many key-offs of how many, the worst of them, and what is usual. */
  readonly costlyTimes?: number;
  readonly settlingsSeen?: number;
  readonly mostAh?: number;
  readonly mostT?: number;
  readonly usualAh?: number | null;
};

export const check: Check<Facts> = {
  id: 'sleep-time',
  about: 'vehicle',
  core: true,
  side: 'max',
  compared: [{ name: 'time-to-sleep', unit: 's', better: 'lower', oneLimit: true }],
  gives: { key: 'sleepWithin', margin: 300 },
  needs: ['current'],
  restsOn: ['settling'],
  limits: [SLEEP_WITHIN],
  reasons: ['no-stand', 'no-settling-seen', 'limit-within-uncertainty'],
  cautions: ['general'],
  answer(analysis, session) {
    const limit = limitOf(SLEEP_WITHIN, session);
    const { slept, late, awake, U, k } = sleepTimes(analysis, session);
    const byLoad = isByLoad(analysis, session, [...awake, ...slept]);
    const slowest = mostBy(slept, (stand) => stand.timeToSleepS);
    const longestAwake = mostBy(awake, (stand) => stand.countedS);
    const facts = {
      stands: slept.length + awake.length,
      sleptStands: slept.length,
      awakeStands: awake.length,
      slowestS: slowest?.timeToSleepS ?? null,
      slowestT: slowest?.start ?? null,
      note: slowest ? noteAt(session.notes, slowest.start) : null,
      typicalS: halfWithin(slept.map((stand) => stand.timeToSleepS)),
      settlingAh: settledAh(analysis, session),
      atOnce: slowest !== undefined && slowest.timeToSleepS < 1,
      lateStands: late.length,
      atTimes: late.length < slept.length,
      awakeS: longestAwake?.countedS ?? null,
      awakeT: longestAwake?.start ?? null,
      awakeDrawA: longestAwake?.meanDrawA?.value ?? null,
      severalAwake: awake.length > 1,
      byLoad,
      named: namedForSettlings(analysis, session),
    };
    if (longestAwake) {
      return {
        status: 'fault',
        variant: 'never-asleep',
        measured: { value: longestAwake.countedS, unit: 's', uncertainty: U, coverage: k },
        limit,
        facts,
        evidence: [{ chart: 'sleep-time', from: longestAwake.start, to: longestAwake.end }],
        ...(byLoad && { follows: 'held-awake' }),
      };
    }
    if (!slowest) {
      return {
        status: 'undecided',
        limit,
        facts,
        reason: analysis.stands.length === 0 ? 'no-stand' : 'no-settling-seen',
      };
    }

    const value = slowest.timeToSleepS;
    const base = {
      measured: { value, unit: 's', uncertainty: U, coverage: k },
      limit,
      facts,
      evidence: [{ chart: 'sleep-time', from: slowest.start, to: slowest.end }],
    } as const;
    const decision = decide({ value, U, limit: limit.value, side: 'max' });
    if (decision === 'within') {
      const found = costlySettlings(analysis, session);
      if (!found) return { ...base, status: 'clear' };
      const { costly, most, seen, usualAh } = found;
      const told = {
        costlyTimes: costly.length,
        settlingsSeen: seen,
        mostAh: most.chargeAh,
        mostT: most.start,
        usualAh,
      };
      const evidence = [{ chart: 'sleep-time', from: most.start, to: most.start + (most.seconds ?? 0) }];
      return { ...base, facts: { ...facts, ...told }, evidence, status: 'watch', variant: 'costly' };
    }
    if (decision === 'undecided') return { ...base, status: 'undecided', reason: 'limit-within-uncertainty' };
    const isFault = late.length > 1 || slept.length === 1 || value > 2 * limit.value;
    if (byLoad) return { ...base, status: isFault ? 'fault' : 'watch', variant: 'by-load', follows: 'held-awake' };
    if (!isFault) return { ...base, status: 'watch' };
    return { ...base, status: 'fault', ...(facts.atTimes && { variant: 'at-times' }) };
  },
};

/** Null without a settling that slept. */
function settledAh(analysis: Analysis, session: Session): number | null {
  const slept = settlings(analysis, session).all.filter(({ seconds }) => seconds !== null);
  return slept.length > 0 ? median(slept.map(({ chargeAh }) => chargeAh)) : null;
}

/** One of them, so that it is true of two as well: half of them took no longer, s. */
function halfWithin(seconds: readonly number[]): number | null {
  return seconds.toSorted((a, b) => a - b)[Math.ceil(seconds.length / 2) - 1] ?? null;
}

/** True where every stand that did not sleep in time had a load that stayed on. */
function isByLoad(analysis: Analysis, session: Session, stands: readonly Stand[]): boolean {
  const loads = standsCompared(analysis, session)?.loads ?? [];
  const withinS = limitOf(SLEEP_WITHIN, session).value;
  const late = stands.filter(({ timeToSleepS }) => timeToSleepS === null || timeToSleepS > withinS);
  return late.every((stand) => loads.some((load) => load.start < stand.end && load.end > stand.start));
}
