/**
 * Is the sensor's zero plausible? Best told while the battery is disconnected, where no current can flow. Else from sleep:
 * a current into a sleeping vehicle's battery while its voltage falls comes from the sensor. An offset that looks like a
 * draw shows in neither: a draw beyond the parked limit leaves the question open unless it would take an offset many times
 * what the manifest states to bring it within.
 */
import type { Analysis, Period } from '../analysis/model.ts';
import { tilesIn } from '../analysis/tiles/tiles-in.ts';
import { perTwelveVolt } from '../battery/chemistry.ts';
import { mean } from '../battery/statistics.ts';
import { combine, expand } from '../battery/uncertainty.ts';
import type { Session } from '../manifest/session.ts';
import { limitOf } from '../measures/limit.ts';
import { accuracyStated, expandedU, levelU } from '../measures/sensor.ts';
import { mostBy } from '../measures/spans.ts';
import { PARKED_DRAW, sleepers } from '../measures/stands.ts';
import type { Answer, Check } from './check.ts';

/** A disconnection shorter than this gives no dependable mean, s. */
const ENOUGH_OFF_S = 30;
/** An offset this many times the stated one is not to be expected. Common practice, no source. */
const NOT_EXPECTED = 3;
/** Draws that agree this well are the same. Common practice, no source. */
const SAME_DRAW = 0.1;
/** A rise of voltage while asleep that something must feed, V for 12 V. Common practice, no source. */
const RISE_V = 0.02;

type WhileOff = {
  readonly offT: number;
  readonly offS: number;
  readonly accuracyStated: boolean;
  readonly offsetA: number | null;
};

type WhileAsleep = {
  readonly stands: number;
  readonly leastT: number;
  readonly asleepS: number;
  readonly leastA: number;
  readonly mostA: number;
  readonly riseV: number;
  readonly parkedLimitA: number;
  readonly overA?: number;
  readonly over?: boolean;
  readonly accuracyStated: boolean;
  readonly offsetA: number | null;
};

type Facts = WhileOff | WhileAsleep;

export const check: Check<Facts> = {
  id: 'current-zero',
  about: 'log',
  doubts: ({ status }) => (status === 'fault' ? 'small-current' : null),
  side: null,
  needs: ['current'],
  limits: [],
  reasons: ['never-quiet', 'could-be-offset', 'lead-or-zero'],
  cautions: ['general'],
  answer(analysis, session) {
    return whileOff(analysis, session) ?? whileAsleep(analysis, session);
  },
};

/** The longest disconnection from a parked vehicle; undefined where there is none to judge by. */
function whileOff(analysis: Analysis, session: Session): Answer<Facts> | undefined {
  const off = mostBy(
    analysis.periods.filter(
      (period, k) => period.kind === 'disconnected' && lengthS(period) >= ENOUGH_OFF_S && fromParked(analysis, k),
    ),
    lengthS,
  );
  const readings = off ? innerReadings(analysis, off) : [];
  if (!off || readings.length === 0) return undefined;
  const value = mean(readings);
  const U = combine(
    levelU(0, 'current', analysis, session),
    expand((analysis.noiseA ?? 0) / Math.sqrt(readings.length)),
  );
  const base = {
    measured: { value, unit: 'A', uncertainty: U },
    facts: { ...accuracyFacts(session), offT: off.start, offS: lengthS(off) },
    evidence: [{ chart: 'current-zero', from: off.start, to: off.end }],
  } as const;
  if (Math.abs(value) <= U) return { ...base, status: 'clear', variant: 'while-off' };
  // The voltage lead alone may have come off: then the draw goes on as it was.
  const drawGoesOn = sleepers(analysis).some(
    ({ sleepDrawA }) => Math.abs(-value - sleepDrawA.value) <= SAME_DRAW * sleepDrawA.value + U,
  );
  return drawGoesOn
    ? { ...base, status: 'undecided', reason: 'lead-or-zero' }
    : { ...base, status: 'fault', variant: 'while-off' };
}

/** What the sensor is known to read of nothing, A, positive into the battery: as read with the battery off; 0 where it is right or not known. */
export function shiftedZeroA(analysis: Analysis, session: Session): number {
  const answer = whileOff(analysis, session);
  return answer?.status === 'fault' ? (answer.measured?.value ?? 0) : 0;
}

function whileAsleep(analysis: Analysis, session: Session): Answer<Facts> {
  const stands = sleepers(analysis);
  const least = mostBy(stands, (stand) => -stand.sleepDrawA.value);
  const most = mostBy(stands, (stand) => stand.sleepDrawA.value);
  if (!least || !most) return { status: 'undecided', reason: 'never-quiet' };

  const limit = limitOf(PARKED_DRAW, session);
  const value = -least.sleepDrawA.value;
  const U = expandedU(least.sleepDrawA, 'current', session);
  const riseV = voltageRise(analysis, least.start, least.end);
  const base = {
    measured: { value, unit: 'A', uncertainty: U },
    facts: {
      ...accuracyFacts(session),
      stands: stands.length,
      leastT: least.start,
      asleepS: least.asleepS,
      leastA: least.sleepDrawA.value,
      mostA: most.sleepDrawA.value,
      riseV,
      parkedLimitA: limit.value,
    },
    evidence: [{ chart: 'current-zero', from: least.start, to: least.end }],
  } as const;
  if (value > U)
    return { ...base, status: riseV > RISE_V * perTwelveVolt(session.vehicle.systemV) ? 'watch' : 'fault' };
  const overA = most.sleepDrawA.value - limit.value;
  const stated = session.log.columns.current?.accuracy?.absolute;
  const open = overA > -U && !(stated !== undefined && overA > NOT_EXPECTED * stated);
  const facts = { ...base.facts, overA, over: overA > 0 };
  return open
    ? { ...base, facts, status: 'undecided', reason: 'could-be-offset' }
    : { ...base, facts, status: 'clear' };
}

function accuracyFacts(session: Session) {
  return {
    accuracyStated: accuracyStated('current', session),
    offsetA: session.log.columns.current?.accuracy?.absolute ?? null,
  };
}

/** Means of the tiles of a period, without those at its ends, which hold some of what is next to it. */
function innerReadings(analysis: Analysis, { start, end }: Period): number[] {
  const { tiles } = analysis;
  const inside = tilesIn(analysis, ['disconnected']).filter((k) => tiles.t0[k] >= start && tiles.t1[k] <= end);
  return inside.slice(2, -2).flatMap((k) => (Number.isNaN(tiles.i[k]) ? [] : [tiles.i[k]]));
}

const lengthS = (period: Period) => period.end - period.start;

function fromParked({ periods }: Analysis, k: number): boolean {
  const before = periods[k - 1]?.kind ?? periods[k + 1]?.kind;
  return before === 'asleep' || before === 'awake' || before === 'settling';
}

/** From the first quarter of a stand's sleep to its last, V. */
function voltageRise(analysis: Analysis, start: number, end: number): number {
  const { tiles } = analysis;
  const volts = tilesIn(analysis, ['asleep'])
    .filter((k) => tiles.t0[k] >= start && tiles.t1[k] <= end && !Number.isNaN(tiles.v[k]))
    .map((k) => tiles.v[k]);
  const quarter = Math.ceil(volts.length / 4);
  return quarter > 0 ? mean(volts.slice(-quarter)) - mean(volts.slice(0, quarter)) : 0;
}
