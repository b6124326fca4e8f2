/** What a vehicle draws that is left standing for long. */
import type { Measured, Wake } from '../analysis/model.ts';
import { combine, together, widened } from '../battery/uncertainty.ts';
import { measure } from './measure.ts';
import { total } from './spans.ts';
import { stayedAwake } from './stayed-awake.ts';
import { edgesU } from './wakes/wake-charge-u.ts';

/**
 * Mean draw of a long stand, A: the sleeping draw and what the wakes add to it, without the settling, which comes once.
 * Where it never slept, the mean of the stands that stayed awake. The count of wakes is a sample: with n of them their
 * share is uncertain by 1/√n. Null where neither was seen for an hour.
 */
export const longRunDraw = measure((analysis, session): Measured | null => {
  const slept = analysis.stands.filter((stand) => stand.sleepDrawA !== null);
  const seconds = total(slept, (stand) => stand.asleepS + stand.awakeS);
  if (seconds >= 3600) {
    const asleepA =
      total(slept, ({ sleepDrawA, asleepS, awakeS }) => (sleepDrawA?.value ?? 0) * (asleepS + awakeS)) / seconds;
    const isOfThese = (wake: Wake) => analysis.stands[wake.stand]?.sleepDrawA != null;
    const wakes = analysis.wakes.filter(isOfThese);
    const wakesA = (total(wakes, (wake) => wake.chargeAh) * 3600) / seconds;
    const value = asleepA + wakesA;
    const wakesU = combine(
      wakesA / Math.sqrt(wakes.length || 1),
      (edgesU(analysis, session, isOfThese) * 3600) / seconds,
    );
    const asleep = slept.flatMap(({ sleepDrawA, asleepS, awakeS }) =>
      sleepDrawA ? [{ ...sleepDrawA, weight: asleepS + awakeS }] : [],
    );
    return { value, ...widened(together(asleep), wakesU) };
  }
  const awake = stayedAwake(analysis, session);
  const awakeS = total(awake, (stand) => stand.countedS);
  if (awakeS < 3600) return null;
  const draws = awake.flatMap(({ meanDrawA, countedS }) => (meanDrawA ? [{ ...meanDrawA, weight: countedS }] : []));
  return { value: total(draws, (draw) => draw.value * draw.weight) / awakeS, ...together(draws) };
});
