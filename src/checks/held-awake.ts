/**
 * Loads that stay on in some stands of a vehicle that sleeps in others are told first, stand against stand. Else: stretches awake that went on for longer than a vehicle may need to fall asleep: after a wake, or after a key-off that
 * usually is followed by sleep in time. One stretch a little over the limit is worth watching, since somebody may have been
 * in the vehicle; several, or one of more than twice the limit, are a fault.
 */
import type { Analysis } from '../analysis/model.ts';
import { median } from '../battery/statistics.ts';
import { decide, expand } from '../battery/uncertainty.ts';
import type { Session } from '../manifest/session.ts';
import { noteAt, type StandsCompared, standsCompared } from '../measures/account/stands-compared.ts';
import { awakeStretches, type Stretch } from '../measures/awake-stretches.ts';
import { namedForSettlings } from '../measures/circuits/matches.ts';
import { circuitOnDuring } from '../measures/circuits-on.ts';
import { limitOf } from '../measures/limit.ts';
import { movement, movementFacts } from '../measures/movement.ts';
import { sleepsLate } from '../measures/sleep-times.ts';
import { mostBy, total } from '../measures/spans.ts';
import { betweenFading, SLEEP_WITHIN } from '../measures/stands.ts';
import type { Check } from './check.ts';

/** Without this much sleep and without a long stretch awake, nothing was seen either way, s. */
const ENOUGH_ASLEEP_S = 3600;

type Seen = {
  readonly stretches: number;
  /** It was never awake for a second. */
  readonly never: boolean;
  readonly long: number;
  readonly severalTimes: boolean;
  readonly afterWakes: number;
  /** Any stretch, long or short, came after a wake. */
  readonly wakesSeen: boolean;
  readonly afterKeyOffs: number;
  readonly longestT: number;
  readonly longestA: number;
  readonly longestAh: number;
  readonly longAh: number;
  readonly channel: string | null;
  /** What the technician noted when the longest began. */
  readonly note: string | null;
  /** Where none was simply on: the one that goes with the slow settlings. */
  readonly named: string | null;
};

/** Fewer loads show no habit; what is there in so large a part of that many stands, or more, is the rule. Common practice, no source. */
const SEVERAL = 3;
const MOSTLY = 0.75;

/** Only of the variants `none` and `late`. */
type NoneSeen = { readonly stretches: 0 };

/** Only of the variant `load`: it stayed on in some stands, from key-off or from within them. */
type LoadSeen = {
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
  readonly standsSeen: number;
  readonly standsWith: number;
  /** It is there in most of them: then nothing was different. */
  readonly mostly: boolean;
  readonly severalTimes: boolean;
  readonly sleepA: number;
  readonly loadA: number;
  readonly togetherA: number;
  /** It is more than an ampere, and said so. */
  readonly inAmperes: boolean;
  readonly loadAh: number;
  readonly dayAh: number;
  /** Null where a day of it is more than the battery holds: then in `emptyS` a full one would be empty. */
  readonly dayShare: number | null;
  readonly emptyS: number | null;
  /** Of a load that comes each day: what a day of it has taken. */
  readonly eachAh: number | null;
  readonly eachShare: number | null;
  readonly longestT: number;
  readonly endT: number;
  readonly fromKeyOff: boolean;
  /** Each of them came on while it stood. */
  readonly comesOn: boolean;
  /** Something in this log parts the stands with it from those without. */
  readonly differs: boolean;
  readonly toKeyOn: boolean;
  readonly channel: string | null;
  readonly named: string | null;
  readonly driveWithS: number | null;
  readonly driveOthersS: number | null;
  readonly tempWithC: number | null;
  readonly tempOthersC: number | null;
  readonly dailyT: number | null;
  readonly weekdayT: number | null;
  readonly loads: number;
  readonly note: string | null;
};

type Facts = Seen | NoneSeen | LoadSeen;

export const check: Check<Facts> = {
  id: 'held-awake',
  about: 'vehicle',
  side: 'max',
  gives: { key: 'sleepWithin', margin: 300 },
  needs: ['current'],
  limits: [{ ...SLEEP_WITHIN, applies: 'from a wake, as from key-off' }],
  reasons: ['no-stand', 'too-little-sleep', 'limit-within-uncertainty'],
  cautions: ['general'],
  answer(analysis, session) {
    const limit = limitOf(SLEEP_WITHIN, session);
    const { u, k } = betweenFading(analysis);
    const U = expand(u, k);
    const judge = (stretch: Pick<Stretch, 'seconds'>) =>
      decide({ value: stretch.seconds, U, limit: limit.value, side: 'max' });
    const compared = standsCompared(analysis, session);
    if (compared) {
      const { longest } = compared;
      return {
        status: 'fault',
        variant: 'load',
        measured: { value: longest.end - longest.start, unit: 's', uncertainty: U, coverage: k },
        limit,
        facts: loadFacts(compared, analysis, session),
        evidence: [{ chart: 'held-awake', from: longest.start, to: longest.end }],
      };
    }
    const all = awakeStretches(analysis, session);
    const settling = all.filter((stretch) => stretch.after === 'key-off').map((stretch) => stretch.seconds);
    // Where it is the rule that sleep comes late after key-off, nothing held it: that is `sleep-time`.
    const isRule = judge({ seconds: median(settling) }) === 'beyond';
    const stretches = isRule ? all.filter((stretch) => stretch.after === 'wake') : all;
    const long = stretches.filter((stretch) => judge(stretch) === 'beyond');
    const longest = mostBy(stretches, (stretch) => stretch.seconds);
    if (long.length === 0 && total(analysis.stands, (stand) => stand.asleepS) < ENOUGH_ASLEEP_S) {
      return { status: 'undecided', limit, reason: analysis.stands.length === 0 ? 'no-stand' : 'too-little-sleep' };
    }
    // Short wakes beside a long way to sleep do not make "never awake for longer than …" true.
    const isLate = isRule && long.length === 0 && sleepsLate(analysis, session);
    if (!longest || isLate)
      return {
        status: 'clear',
        variant: isLate ? 'late' : 'none',
        limit,
        facts: { stretches: 0 },
      };
    const asleep = analysis.periods.filter((period) => period.kind === 'asleep');
    const afterWakes = long.filter((stretch) => stretch.after === 'wake').length;
    const base = {
      measured: { value: longest.seconds, unit: 's', uncertainty: U, coverage: k },
      limit,
      facts: {
        stretches: stretches.length,
        never: longest.seconds < U / 5,
        long: long.length,
        severalTimes: long.length > 1,
        afterWakes,
        wakesSeen: stretches.some((stretch) => stretch.after === 'wake'),
        afterKeyOffs: long.length - afterWakes,
        longestT: longest.start,
        longestA: (longest.chargeAh * 3600) / longest.seconds,
        longestAh: longest.chargeAh,
        longAh: total(long, (stretch) => stretch.chargeAh),
        channel: circuitOnDuring(analysis, session, long, asleep),
        note: noteAt(session.notes, longest.start),
        named: namedForSettlings(analysis, session),
      },
      evidence: [{ chart: 'held-awake', from: longest.start, to: longest.end }],
    } as const;
    if (judge(longest) === 'undecided') return { ...base, status: 'undecided', reason: 'limit-within-uncertainty' };
    if (long.length === 0) return { ...base, status: 'clear' };
    const isFault = long.length > 1 || longest.seconds > 2 * limit.value;
    // What only ever happens after key-off is told by the time to sleep.
    return { ...base, status: isFault ? 'fault' : 'watch', ...(afterWakes === 0 && { follows: 'sleep-time' }) };
  },
};

function loadFacts(compared: StandsCompared, analysis: Analysis, session: Session): LoadSeen {
  const { loads, longest, sleepA, loadA, driveS, temperatureC, dailyT, weekdayT, note } = compared;
  const { capacityAh } = session.battery;
  const dayShare = capacityAh === undefined ? null : (24 * loadA) / capacityAh;
  const moves = movement(analysis, session);
  // One load by day beside a night without it makes a slope of the temperature that is none.
  const isOnce = loads.length < SEVERAL && loads.every(({ from }) => from === 'key-off');
  const eachAh = dailyT === null ? null : compared.chargeAh / loads.length;
  return {
    standsSeen: compared.stands,
    standsWith: compared.withLoad,
    mostly: compared.stands >= SEVERAL && compared.withLoad >= MOSTLY * compared.stands,
    severalTimes: loads.length > 1,
    sleepA,
    loadA,
    togetherA: sleepA + loadA,
    inAmperes: sleepA + loadA >= 1,
    loadAh: compared.chargeAh,
    dayAh: 24 * loadA,
    dayShare: dayShare !== null && dayShare < 1 ? dayShare : null,
    emptyS: dayShare !== null && dayShare >= 1 ? 86_400 / dayShare : null,
    eachAh,
    eachShare: eachAh === null || capacityAh === undefined ? null : eachAh / capacityAh,
    longestT: longest.start,
    endT: longest.end,
    fromKeyOff: loads.every(({ from }) => from === 'key-off'),
    comesOn: loads.every(({ from }) => from === 'within'),
    differs: driveS !== null || temperatureC !== null || weekdayT !== null || note !== null,
    toKeyOn: loads.every(({ until }) => until !== 'within'),
    channel: compared.channel,
    named: namedForSettlings(analysis, session),
    driveWithS: driveS?.withLoad ?? null,
    driveOthersS: driveS?.others ?? null,
    tempWithC: temperatureC?.withLoad ?? null,
    tempOthersC: temperatureC?.others ?? null,
    dailyT,
    weekdayT,
    loads: loads.length,
    note,
    ...movementFacts(isOnce ? { ...moves, warmth: null } : moves),
  };
}
