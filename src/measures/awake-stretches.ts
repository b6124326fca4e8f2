/** Stretches awake that somebody or something must answer for. */
import type { Period, Span, Stand } from '../analysis/model.ts';
import { decide } from '../battery/uncertainty.ts';
import { limitOf } from './limit.ts';
import { measure } from './measure.ts';
import { expandedU } from './sensor.ts';
import { total } from './spans.ts';
import { PARKED_DRAW } from './stands.ts';

/** A stand that begins this soon is the one in which the logger was fitted, s; one behind a hole is not. */
const BEGIN_S = 60;
/** Nobody takes longer to fit it, s. Common practice, no source. */
const FITTING_S = 4 * 3600;
/** More charge than this into the battery means that it was being charged meanwhile, Ah. */
const CHARGED_AH = 0.05;

export interface Stretch extends Span {
  readonly seconds: number;
  readonly chargeAh: number;
  readonly after: 'wake' | 'key-off';
}

/**
 * Stretches awake of every stand, in order of time, without those in which the battery was charged, the fitting of the
 * logger (awake before the first sleep of a stand that began before the log), and those whose draw is not clearly over the
 * parked limit: there the sensor, and not the vehicle, may be restless.
 */
export const awakeStretches = measure((analysis, session): readonly Stretch[] => {
  const limitA = limitOf(PARKED_DRAW, session).value;
  return analysis.stands.flatMap((stand) =>
    ofOneWay(analysis.periods.filter(({ start, end }) => start >= stand.start && end <= stand.end))
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
        const isFitting = !stand.keyOffInLog && stand.start - analysis.start < BEGIN_S && stretch.seconds < FITTING_S;
        if (stretch.after === 'key-off' && isFitting) return false;
        const value = (stretch.chargeAh * 3600) / stretch.seconds;
        const U = expandedU(stand.meanDrawA ?? { u: 0 });
        return decide({ value, U, limit: limitA, side: 'max' }) === 'beyond';
      }),
  );
});

/** The way to sleep is one stretch, though what some of it was nobody can tell. */
function ofOneWay(periods: readonly Period[]): readonly Period[] {
  const [first, last] = [
    periods.findIndex(({ kind }) => kind === 'settling'),
    periods.findLastIndex(({ kind }) => kind === 'settling'),
  ];
  const way = first < 0 ? [] : periods.slice(first, last + 1);
  const [from, to] = [way[0], way.at(-1)];
  if (!from || !to || way.length < 2 || way.some(({ kind }) => kind !== 'settling' && kind !== 'unknown'))
    return periods;
  const whole: Period = {
    ...from,
    end: to.end,
    chargeInAh: total(way, ({ chargeInAh }) => chargeInAh),
    chargeOutAh: total(way, ({ chargeOutAh }) => chargeOutAh),
  };
  return [...periods.slice(0, first), whole, ...periods.slice(last + 1)];
}

const isAwakeIn = ({ kind, start, end }: Period, stand: Stand) =>
  (kind === 'awake' || kind === 'settling') && start >= stand.start && end <= stand.end;
