/**
 * Is the sensor's zero plausible? Best told while the battery is disconnected, where no current can flow. Else from sleep:
 * a current into a sleeping vehicle's battery while its voltage falls comes from the sensor. An offset that looks like a
 * draw shows in neither: a draw beyond the parked limit leaves the question open unless it would take an offset many times
 * what the manifest states to bring it within.
 */
import type { Analysis } from '../analysis/model.ts';
import { perTwelveVolt } from '../battery/chemistry.ts';
import type { Session } from '../manifest/session.ts';
import { FED_S, fedS } from '../measures/fed.ts';
import { limitOf } from '../measures/limit.ts';
import { accuracyStated, expandedU } from '../measures/sensor.ts';
import { mostBy } from '../measures/spans.ts';
import { PARKED_DRAW, sleepers } from '../measures/stands.ts';
import { asleepRiseV, zeroWhileOff } from '../measures/zero.ts';
import type { Answer, Check } from './check.ts';

/** An offset this many times the stated one is not to be expected. Common practice, no source. */
const NOT_EXPECTED = 3;
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
  reasons: ['never-quiet', 'reads-charging', 'could-be-offset', 'lead-or-zero', 'fed'],
  cautions: ['general'],
  answer(analysis, session) {
    return whileOff(analysis, session) ?? whileAsleep(analysis, session);
  },
};

function whileOff(analysis: Analysis, session: Session): Answer<Facts> | undefined {
  const zero = zeroWhileOff(analysis, session);
  if (!zero) return undefined;
  const { off, value, U, k, shows } = zero;
  const base = {
    measured: { value, unit: 'A', uncertainty: U, coverage: k },
    facts: { ...accuracyFacts(session), offT: off.start, offS: off.end - off.start },
    evidence: [{ chart: 'current-zero', from: off.start, to: off.end }],
  } as const;
  if (shows === 'nothing') return { ...base, status: 'clear', variant: 'while-off' };
  return shows === 'lead'
    ? { ...base, status: 'undecided', reason: 'lead-or-zero' }
    : { ...base, status: 'fault', variant: 'while-off' };
}

function whileAsleep(analysis: Analysis, session: Session): Answer<Facts> {
  const stands = sleepers(analysis);
  const least = mostBy(stands, (stand) => -stand.sleepDrawA.value);
  const most = mostBy(stands, (stand) => stand.sleepDrawA.value);
  if (!least || !most) return { status: 'undecided', reason: 'never-quiet' };

  const limit = limitOf(PARKED_DRAW, session);
  const value = -least.sleepDrawA.value;
  const U = expandedU(least.sleepDrawA);
  const riseV = asleepRiseV(analysis, least);
  const base = {
    measured: { value, unit: 'A', uncertainty: U, coverage: least.sleepDrawA.k },
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
  // What flows in at the edges of a feeding that was seen says nothing of the sensor.
  if (value > U && fedS(analysis, least) >= FED_S) return { ...base, status: 'undecided', reason: 'fed' };
  if (value > U)
    return { ...base, status: riseV > RISE_V * perTwelveVolt(session.vehicle.systemV) ? 'watch' : 'fault' };
  // Within what its maker leaves open, and yet no vehicle charges its battery asleep.
  if (value > 0 && value + U > limit.value) return { ...base, status: 'undecided', reason: 'reads-charging' };
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
