/**
 * Stretches awake that went on for longer than a vehicle may need to fall asleep: after a wake, or after a key-off that
 * usually is followed by sleep in time. One stretch a little over the limit is worth watching, since somebody may have been
 * in the vehicle; several, or one of more than twice the limit, are a fault.
 */
import type { Analysis, Parked, Period } from '../analysis/model.ts';
import { decide } from '../battery/uncertainty.ts';
import type { Session } from '../manifest/session.ts';
import { circuitOnDuring } from '../measures/circuits-on.ts';
import { limitOf } from '../measures/limit.ts';
import { expandedU } from '../measures/sensor.ts';
import { median, mostBy, total } from '../measures/spans.ts';
import { PARKED_DRAW, SLEEP_WITHIN, sleepTimeU } from '../measures/stands.ts';
import type { Check } from './check.ts';

/** Without this much sleep and without a long stretch awake, nothing was seen either way, s. */
const ENOUGH_ASLEEP_S = 3600;
/** A stand that begins this soon is the one in which the logger was fitted, s; one behind a hole is not. */
const BEGIN_S = 60;
/** More charge than this into the battery means that it was being charged meanwhile, Ah. */
const CHARGED_AH = 0.05;

export interface Stretch {
  readonly start: number;
  readonly end: number;
  readonly seconds: number;
  readonly chargeAh: number;
  readonly after: 'wake' | 'key-off';
}

export const check: Check = {
  id: 'held-awake',
  needs: ['current'],
  limits: [{ ...SLEEP_WITHIN, applies: 'from a wake, as from key-off' }],
  reasons: ['no-stand', 'too-little-sleep', 'limit-within-uncertainty'],
  cautions: ['general'],
  answer(analysis, session) {
    const limit = limitOf(SLEEP_WITHIN, session);
    const U = sleepTimeU(analysis);
    const judge = (stretch: Pick<Stretch, 'seconds'>) =>
      decide({ value: stretch.seconds, U, limit: limit.value, side: 'max' });
    const all = awakeStretches(analysis, session);
    const settling = all.filter((stretch) => stretch.after === 'key-off').map((stretch) => stretch.seconds);
    // Where it is the rule that sleep comes late after key-off, nothing held it: that is `sleep-time`.
    const isRule = judge({ seconds: median(settling) }) === 'beyond';
    const stretches = isRule ? all.filter((stretch) => stretch.after === 'wake') : all;
    const long = stretches.filter((stretch) => judge(stretch) === 'beyond');
    const longest = mostBy(stretches, (stretch) => stretch.seconds);
    if (long.length === 0 && total(analysis.parked, (stand) => stand.asleepS) < ENOUGH_ASLEEP_S) {
      return { status: 'undecided', limit, reason: analysis.parked.length === 0 ? 'no-stand' : 'too-little-sleep' };
    }
    if (!longest) return { status: 'clear', variant: 'none', limit };
    const asleep = analysis.periods.filter((period) => period.kind === 'asleep');
    const afterWakes = long.filter((stretch) => stretch.after === 'wake').length;
    const base = {
      measured: { value: longest.seconds, unit: 's', uncertainty: U },
      limit,
      facts: {
        stretches: stretches.length,
        long: long.length,
        severalTimes: long.length > 1,
        afterWakes,
        afterKeyOffs: long.length - afterWakes,
        longestT: longest.start,
        longestA: (longest.chargeAh * 3600) / longest.seconds,
        longestAh: longest.chargeAh,
        longAh: total(long, (stretch) => stretch.chargeAh),
        channel: circuitOnDuring(analysis, session, long, asleep),
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

/**
 * Stretches awake of every stand, in order of time, without those in which the battery was charged, the fitting of the
 * logger (awake before the first sleep of a stand that began before the log), and those whose draw is not clearly over the
 * parked limit: there the sensor, and not the vehicle, may be restless.
 */
export function awakeStretches(analysis: Analysis, session: Session): Stretch[] {
  const limitA = limitOf(PARKED_DRAW, session).value;
  return analysis.parked.flatMap((stand) =>
    analysis.periods
      .filter((period) => isAwakeIn(period, stand) && period.chargeInAh < CHARGED_AH)
      .map(
        ({ kind, start, end, chargeOutAh }): Stretch => ({
          start,
          end,
          seconds: end - start,
          chargeAh: chargeOutAh,
          after: kind === 'settling' ? 'key-off' : 'wake',
        }),
      )
      .filter((stretch) => {
        const isFitting = !stand.keyOffInLog && stand.start - analysis.start < BEGIN_S;
        if (stretch.after === 'key-off' && isFitting) return false;
        const value = (stretch.chargeAh * 3600) / stretch.seconds;
        const U = expandedU({ value, u: stand.meanDrawA?.u ?? 0 }, 'current', session);
        return decide({ value, U, limit: limitA, side: 'max' }) === 'beyond';
      }),
  );
}

const isAwakeIn = ({ kind, start, end }: Period, stand: Parked) =>
  (kind === 'awake' || kind === 'settling') && start >= stand.start && end <= stand.end;
