/**
 * Does charging reach its window? Newer vehicles lower the voltage on purpose, so a drive counts as not charged only
 * where nearly all of it stays below the window and clearly more charge left the battery than came back. It is a fault where that
 * holds for at least half of the driving time or for the last drive, and worth watching where for less. Also worth watching: no drive reached the
 * window although the battery was clearly not full, which is no time to lower the voltage; all stayed below what any
 * vehicle lowers it to; or charging begins only after the first minutes of most drives.
 */
import type { Analysis, Drive, PeriodKind } from '../analysis/model.ts';
import { accuracyOf } from '../analysis/uncertain.ts';
import { perTwelveVolt } from '../battery/chemistry.ts';
import { BY_ITSELF_V } from '../battery/fed-voltage.ts';
import { accuracyBounds, decide, expand, uncertaintyOf } from '../battery/uncertainty.ts';
import type { Session } from '../manifest/session.ts';
import { converterStops } from '../measures/converter-stops.ts';
import { DRIVE_SIZED_S, driveSizedA } from '../measures/drive-sized.ts';
import { type JudgedDrive, judgedDrives, SHORTEST_DRIVE_S } from '../measures/drives.ts';
import { lateCharging } from '../measures/first-minutes.ts';
import type { DefaultLimit } from '../measures/limit.ts';
import { limitOf } from '../measures/limit.ts';
import { isFilled, neverReachedA } from '../measures/never-reached.ts';
import { RESTING_CHARGE, restedCharges } from '../measures/rested-charge.ts';
import { accuracyStated, expandedU } from '../measures/sensor.ts';
import { mostBy, total } from '../measures/spans.ts';
import { SURE, surenessOf } from '../measures/sureness.ts';
import type { Check } from './check.ts';

const CHARGING_MIN: DefaultLimit = {
  key: 'chargingVoltageMin',
  value: 13.7,
  unit: 'V',
  source: 'vehicle makers’ regulator windows by temperature (three published tables, seen)',
  applies: '12 V at 20 °C; 14.0 V at −20 °C, 13.2 V at 60 °C; twice that for 24 V',
};

/** Lower than this no vehicle commands, V for 12 V: 12.0 V (a vehicle maker's service data, second-hand), others 12.5 V (seen). */
const LEAST_LOWERED_V = 12.0;
/** A vehicle that runs without any charging drains more than this; a full battery may be let sink by less. Common practice, no source. */
const LEAST_DRAIN_A = 1;
/**
 * Charging that reaches its window for moments and is gone for the rest: half of the drive at what a battery gives by itself,
 * and drained by more than any system lets it sink while it harvests. Common practice, no source.
 */
const CLEAR_DRAIN_A = 3;

/** So many drives, and so much time of them, s, show it raised now and then where it is lowered on purpose. Common practice, no source. */
const SEVERAL_DRIVES = 3;
const SEVERAL_S = 3600;

type Facts = {
  readonly shortestS?: number;
  readonly drives: number;
  readonly lowDrives: number;
  readonly drivenS: number;
  readonly lowS: number;
  readonly worstT: number;
  readonly worstS: number;
  readonly middleV: number;
  readonly highV: number;
  readonly meanA: number | null;
  readonly temperatureC: number | null;
  readonly hasAlternator: boolean;
  readonly accuracyStated: boolean;
  /** Only of the variant `not-full`: by the end it was well charged; the largest mean of a drive where that tells it was not full, A. */
  readonly wasFilled?: boolean;
  readonly takenA?: number | null;
  /** Only of the variant `too-low`: long enough to show a pause in what lowers it; lower than anything commanded. */
  readonly long?: boolean;
  readonly wasLow?: boolean;
  /** Only of the variant `unexplained`: time and charge of it, when it began first, and how often. */
  readonly unexplainedS?: number;
  readonly unexplainedAh?: number;
  readonly unexplainedT?: number;
  readonly unexplainedTimes?: number;
  readonly severalUnexplained?: boolean;
  /** The other drives are sure, and charge. */
  readonly sureDrives?: boolean;
  /** Only of the variant `at-first`: how many drives of how many, the worst of them, and what counts as low. */
  readonly firstDrives?: number;
  readonly firstSeen?: number;
  readonly firstT?: number;
  readonly firstA?: number;
  readonly firstShare?: number;
  readonly itselfV?: number;
  /** Only of the variant `stops`: how many drives of how many, and the longest stop. */
  readonly stopDrives?: number;
  readonly stopSeen?: number;
  readonly stopT?: number;
  readonly stopS?: number;
  readonly stopA?: number;
};

export const check: Check<Facts> = {
  id: 'charging-low',
  about: 'vehicle',
  named: true,
  tellsCustomer: ({ variant }) => variant === 'lowered',
  side: 'min',
  compared: [{ name: 'charging-voltage', unit: 'V', better: 'higher', oneLimit: false }],
  needs: [],
  restsOn: ['driving'],
  limits: [CHARGING_MIN],
  reasons: ['no-drive', 'drives-too-short', 'low-without-current', 'limit-within-uncertainty'],
  cautions: ['general', 'hydrogen', 'exhaust', 'moving-parts', 'short-circuit'],
  answer(analysis, session) {
    if (analysis.drives.length === 0) return { status: 'undecided', reason: 'no-drive' };
    const judged = judgedDrives(analysis, session).map((one) => judge(one, session));
    const drives = asUsual(letSink(judged), session);
    const worst = mostBy(drives, (one) => RANK[one.verdict] * 1000 + one.limit.value - one.volts);
    if (!worst) return { status: 'undecided', facts: { shortestS: SHORTEST_DRIVE_S }, reason: 'drives-too-short' };

    const low = drives.filter((one) => one.verdict === 'not-charged' || one.verdict === 'comes-and-goes');
    const drivenS = total(drives, (one) => one.seconds);
    const lowS = total(low, (one) => one.seconds);
    const isAtTimes = worst.verdict === 'comes-and-goes';
    const base = {
      measured: { value: isAtTimes ? worst.middleV : worst.volts, unit: 'V', uncertainty: worst.U, coverage: worst.k },
      limit: worst.limit,
      facts: {
        drives: drives.length,
        lowDrives: low.length,
        drivenS,
        lowS,
        highV: worst.volts,
        worstT: worst.start,
        worstS: worst.seconds,
        middleV: worst.middleV,
        meanA: worst.meanA,
        temperatureC: worst.temperatureC,
        hasAlternator: session.vehicle.powertrain === 'combustion',
        accuracyStated: accuracyStated('voltage', session),
      },
      evidence: [{ chart: 'charging', from: worst.start, to: worst.start + worst.seconds }],
    } as const;
    // What counts is how it drives now: charging that failed at the end has not come back.
    const last = drives.at(-1);
    const failedLast = last !== undefined && low.includes(last);
    const variant = isAtTimes ? 'at-times' : undefined;
    const isFault = lowS >= drivenS / 2 || failedLast;
    // A drive that may be none accuses nobody; that so much went out of the battery is worth a look all the same.
    const isUnsure = isFault && surenessOf(analysis, ['driving']) < SURE;
    const unsure = isUnsure ? unexplainedDraw(analysis, session, ['unknown', 'driving']) : null;
    if (unsure) return { ...base, facts: { ...base.facts, ...unsure }, status: 'watch', variant: 'unexplained' };
    if (isFault) return { ...base, status: 'fault', variant };
    if (lowS > 0) return { ...base, status: 'watch', variant: variant ?? 'some-drives' };
    if (worst.verdict === 'untold') return { ...base, status: 'undecided', reason: 'low-without-current' };
    if (worst.verdict === 'open') return { ...base, status: 'undecided', reason: 'limit-within-uncertainty' };
    const unexplained = unexplainedDraw(analysis, session, ['unknown']);
    if (unexplained)
      return { ...base, facts: { ...base.facts, ...unexplained }, status: 'watch', variant: 'unexplained' };
    const late = lateCharging(analysis, session);
    if (late) return { ...base, facts: { ...base.facts, ...late }, status: 'watch', variant: 'at-first' };
    const stops = converterStops(analysis, session);
    if (stops) return { ...base, facts: { ...base.facts, ...stops }, status: 'watch', variant: 'stops' };
    if (worst.verdict === 'reached') return { ...base, status: 'clear' };
    const none = drives.every((one) => one.reach === 'beyond');
    const takenA = neverReachedA(analysis, session);
    if (none && (takenA !== null || drivenWhileLow(analysis, session, drives))) {
      const facts = { ...base.facts, wasFilled: isFullNow(analysis, session), takenA };
      return { ...base, facts, status: 'watch', variant: 'not-full' };
    }
    const leastV = LEAST_LOWERED_V * perTwelveVolt(session.vehicle.systemV);
    const isLong = drives.length >= SEVERAL_DRIVES && drivenS >= SEVERAL_S && !isFilled(analysis, session);
    const leastFillV = isLong ? BY_ITSELF_V * perTwelveVolt(session.vehicle.systemV) : leastV;
    const mostV = Math.max(...drives.map((one) => one.volts + one.U));
    if (none && mostV < leastFillV) {
      const facts = { ...base.facts, long: isLong, wasLow: mostV < leastV };
      return { ...base, facts, status: 'watch', variant: 'too-low' };
    }
    return { ...base, status: 'clear', variant: 'lowered' };
  },
};

/** Time of which the log does not show what went on, while as much went out of the battery as a drive without charge takes. */
function unexplainedDraw({ periods }: Analysis, { vehicle }: Session, kinds: readonly PeriodKind[]) {
  const leastA = driveSizedA(vehicle.systemV);
  const all = periods.filter(
    ({ kind, start, end, chargeOutAh, certainty }) =>
      kinds.includes(kind) &&
      certainty < SURE &&
      end - start >= DRIVE_SIZED_S &&
      (chargeOutAh * 3600) / (end - start) >= leastA,
  );
  const [first] = all;
  if (!first) return null;
  return {
    unexplainedS: total(all, ({ start, end }) => end - start),
    unexplainedAh: total(all, ({ chargeOutAh }) => chargeOutAh),
    unexplainedT: first.start,
    unexplainedTimes: all.length,
    severalUnexplained: all.length > 1,
    sureDrives: kinds.length === 1,
  };
}

/** True where the latest rest shows a charge clearly above its limit: it was filled all the same. */
function isFullNow(analysis: Analysis, session: Session): boolean {
  const latest = restedCharges(analysis, session).charges.at(-1);
  const limit = limitOf(RESTING_CHARGE, session).value;
  return latest !== undefined && decide({ value: latest.value, U: latest.U, limit, side: 'min' }) === 'within';
}

/** True where the last rest before a drive showed a charge clearly below its own limit. */
function drivenWhileLow(analysis: Analysis, session: Session, drives: readonly { readonly start: number }[]): boolean {
  const { charges } = restedCharges(analysis, session);
  const limit = limitOf(RESTING_CHARGE, session).value;
  return drives.some(({ start }) => {
    const before = charges.findLast((charge) => charge.rest.at <= start);
    return before && decide({ value: before.value, U: before.U, limit, side: 'min' }) === 'beyond';
  });
}

/** Where charging works in another drive, a small drain is a battery that is let sink to where its vehicle wants it. */
function letSink(drives: readonly ReturnType<typeof judge>[]): readonly ReturnType<typeof judge>[] {
  if (!drives.some(({ verdict }) => verdict === 'reached')) return drives;
  const sinks = ({ verdict, meanA }: ReturnType<typeof judge>) =>
    verdict === 'not-charged' && meanA !== null && meanA > -CLEAR_DRAIN_A;
  return drives.map((drive) => (sinks(drive) ? { ...drive, verdict: 'lowered' as const } : drive));
}

/**
 * A vehicle that keeps its battery on the edge on purpose lives at what a battery gives by itself: where most of its drives do, and charge,
 * and all together put back what they take, one that drained a little has nothing of its own to tell.
 */
function asUsual(
  drives: readonly ReturnType<typeof judge>[],
  { vehicle }: Session,
): readonly ReturnType<typeof judge>[] {
  const byItselfV = BY_ITSELF_V * perTwelveVolt(vehicle.systemV);
  const usual = drives.filter(({ verdict, middleV }) => verdict === 'reached' && middleV < byItselfV);
  const putsBack = total(drives, ({ meanA, seconds }) => (meanA ?? 0) * seconds) >= 0;
  if (2 * usual.length <= drives.length || !putsBack) return drives;
  return drives.map((one) => (one.verdict === 'comes-and-goes' ? { ...one, verdict: 'reached' as const } : one));
}

type Verdict = 'reached' | 'lowered' | 'open' | 'untold' | 'comes-and-goes' | 'not-charged';
const RANK: Readonly<Record<Verdict, number>> = {
  reached: 0,
  lowered: 1,
  open: 2,
  untold: 3,
  'comes-and-goes': 4,
  'not-charged': 5,
};

function judge({ drive, seconds, high, window }: JudgedDrive, session: Session) {
  const U = expandedU(high);
  const set = session.limits.chargingVoltageMin;
  const limit = set
    ? limitOf(CHARGING_MIN, session)
    : { value: window.minV, unit: 'V' as const, source: window.minSource };
  const reach = decide({ value: high.value, U, limit: limit.value, side: 'min' });
  return {
    reach,
    verdict: verdictOf(reach, drive, session),
    volts: high.value,
    U,
    k: high.k,
    limit,
    seconds,
    start: drive.start,
    middleV: drive.voltsMedian,
    meanA: drive.meanA,
    temperatureC: drive.temperatureC,
  };
}

function verdictOf(reach: 'within' | 'beyond' | 'undecided', drive: Drive, session: Session): Verdict {
  const { meanA, voltsMedian } = drive;
  if (reach === 'within') {
    const isByItself = voltsMedian < BY_ITSELF_V * perTwelveVolt(session.vehicle.systemV);
    return isByItself && meanA !== null && meanA < -CLEAR_DRAIN_A ? 'comes-and-goes' : 'reached';
  }
  if (meanA === null) return reach === 'beyond' ? 'untold' : 'open';
  const { u, k } = uncertaintyOf(accuracyBounds(accuracyOf('current', session), meanA), 0);
  const drained = meanA + expand(u, k) < -LEAST_DRAIN_A;
  if (!drained) return 'lowered';
  return reach === 'beyond' ? 'not-charged' : 'open';
}
