/**
 * Can the sensor tell the limit from zero? The smallest steady draw that it tells from none, by the stated accuracy and the
 * steps of the log, against the parked limit. A mean over hours is finer than a single reading only in its noise.
 */
import { combine, expand, rectangular } from '../battery/uncertainty.ts';
import type { DefaultLimit } from '../measures/limit.ts';
import { limitOf, NO_SOURCE } from '../measures/limit.ts';
import { accuracyStated, levelU } from '../measures/sensor.ts';
import { PARKED_DRAW } from '../measures/stands.ts';
import type { Check } from './check.ts';

/** Less is written as nothing. */
const LEAST_TOLD_A = 5e-5;

const FINE_ENOUGH: DefaultLimit = {
  key: 'uncertaintyShare',
  value: 0.25,
  unit: '1',
  source: NO_SOURCE,
  applies: 'of the limit; with more than that, draws near the limit stay open',
};

type Facts = {
  readonly resolutionA: number;
  readonly noiseA: number | null;
  readonly unseenA: number | null;
  readonly resolutionSeen: boolean;
  readonly openFromA: number;
  readonly openToA: number;
};

export const check: Check<Facts> = {
  id: 'current-resolution',
  about: 'log',
  doubts: ({ status }) => (status === 'fault' ? 'small-current' : null),
  side: 'max',
  needs: ['current'],
  limits: [FINE_ENOUGH],
  reasons: ['accuracy-unstated'],
  cautions: [],
  answer(analysis, session) {
    const limit = limitOf(PARKED_DRAW, session);
    const isNought = readsNought(analysis.stands);
    // Where one number is read over and over, the steps do not show all that is open.
    const unseenA = isNought ? 0 : Math.max(0, ...analysis.stands.map((stand) => stand.unseenA));
    const value = combine(levelU(limit.value, 'current', analysis, session), expand(rectangular(unseenA)));
    const base = {
      measured: { value, unit: 'A', uncertainty: null },
      limit,
      facts: {
        resolutionA: analysis.resolution.i,
        noiseA: analysis.noiseA,
        unseenA: unseenA >= LEAST_TOLD_A ? unseenA : null,
        resolutionSeen: analysis.resolution.i > 0,
        // Draws from here to there would get no verdict.
        openFromA: Math.max(0, limit.value - value),
        openToA: limit.value + value,
      },
      evidence: [{ chart: 'current-resolution', from: analysis.start, to: analysis.end }],
    } as const;
    if (value >= limit.value) return { ...base, status: 'fault' };
    if (isNought) return { ...base, status: 'watch', variant: 'reads-nought' };
    if (!accuracyStated('current', session)) return { ...base, status: 'undecided', reason: 'accuracy-unstated' };
    return { ...base, status: value > FINE_ENOUGH.value * limit.value ? 'watch' : 'clear' };
  },
};

/** A mean of exactly nought over a sleep: the sensor does not show so small a draw at all. */
function readsNought(parked: readonly { readonly sleepDrawA: { readonly value: number } | null }[]): boolean {
  const draws = parked.flatMap(({ sleepDrawA }) => (sleepDrawA ? [sleepDrawA.value] : []));
  return draws.length > 0 && draws.every((draw) => draw === 0);
}
