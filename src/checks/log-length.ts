/**
 * Is the log long enough, and does it hold what answers the concern: a stand with a whole hour asleep? A stand that was
 * long enough to sleep in and was not slept in answers it too. Without current, a long stand must do.
 */
import type { Analysis } from '../analysis/model.ts';
import type { Session } from '../manifest/session.ts';
import type { DefaultLimit } from '../measures/limit.ts';
import { limitOf, NO_SOURCE } from '../measures/limit.ts';
import { stayedAwake } from '../measures/stayed-awake.ts';
import type { Check } from './check.ts';

const HOUR_S = 3600;

const LOG_LENGTH: DefaultLimit = {
  key: 'logLength',
  value: 24 * HOUR_S,
  unit: 's',
  source: NO_SOURCE,
  applies: 'for a complaint: one whole day and night; half of it otherwise, which holds one night',
};
/** Sleep that counts as a full one, and a stand that should hold it where sleep cannot be seen, s. */
const FULL_SLEEP_S = HOUR_S;
const LONG_STAND_S = 4 * HOUR_S;

type Facts = {
  readonly stands: number;
  readonly longestSleepS: number;
  readonly longestStandS: number;
  readonly fullSleepS: number;
  readonly hasCurrent: boolean;
  readonly isComplaint: boolean;
};

export const check: Check<Facts> = {
  id: 'log-length',
  about: 'log',
  side: 'min',
  needs: [],
  limits: [LOG_LENGTH],
  reasons: [],
  cautions: [],
  answer(analysis, session) {
    const day = limitOf(LOG_LENGTH, session);
    const limit = session.purpose === 'complaint' ? day : { ...day, value: day.value / 2 };
    const value = analysis.coveredS;
    const longestSleepS = Math.max(0, ...analysis.stands.map((stand) => stand.asleepS));
    const base = {
      measured: { value, unit: 's', uncertainty: null },
      limit,
      facts: {
        stands: analysis.stands.length,
        longestSleepS,
        longestStandS: Math.max(0, ...analysis.stands.map((stand) => stand.end - stand.start)),
        fullSleepS: FULL_SLEEP_S,
        hasCurrent: analysis.has.current,
        isComplaint: session.purpose === 'complaint',
      },
      evidence: [{ chart: 'session-overview', from: analysis.start, to: analysis.end }],
    } as const;
    // To the minute: a day's log ends a step before the day does.
    const short = Math.round(value / 60) * 60 < limit.value;
    if (holdsSleep(analysis, session))
      return short ? { ...base, status: 'watch', variant: 'short' } : { ...base, status: 'clear' };
    if (short) return { ...base, status: 'fault' };
    if (longestSleepS > 0) return { ...base, status: 'watch' };
    return { ...base, status: 'fault', variant: 'no-sleep' };
  },
};

function holdsSleep(analysis: Analysis, session: Session): boolean {
  if (!analysis.has.current) return analysis.stands.some((stand) => stand.end - stand.start >= LONG_STAND_S);
  return analysis.stands.some((stand) => stand.asleepS >= FULL_SLEEP_S) || stayedAwake(analysis, session).length > 0;
}
