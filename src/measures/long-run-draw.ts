/** What a vehicle draws that is left standing for long. */
import type { Analysis, Measured, Stand, Wake } from '../analysis/model.ts';
import { combine, together, widened } from '../battery/uncertainty.ts';
import type { Session } from '../manifest/session.ts';
import { wakeCharges } from './account/stand-account.ts';
import { standsCompared } from './account/stands-compared.ts';
import { measure } from './measure.ts';
import { total } from './spans.ts';
import { stayedAwake } from './stayed-awake.ts';
import { afterKeyOff } from './wakes/after-key-off.ts';
import { edgesU } from './wakes/wake-charge-u.ts';
import { isOfHeavyLoad } from './wakes/wake-draw.ts';

/** Mean sleeping draw over all stands that slept, A: no long stand can draw less. Null where less than an hour was seen. */
export const asleepDraw = measure((analysis): Measured | null => {
  const draws = analysis.stands.flatMap(({ sleepDrawA, asleepS }) =>
    sleepDrawA ? [{ ...sleepDrawA, weight: asleepS }] : [],
  );
  const seconds = total(draws, (draw) => draw.weight);
  if (seconds < 3600) return null;
  return meanOf(draws, seconds);
});

/**
 * Mean draw of a long stand, A: the sleeping draw and what the wakes add to it, without the settling, which comes once.
 * Where it never slept, the mean of the stands that stayed awake. The count of wakes is a sample: with n of them their
 * share is uncertain by 1/√n. Null where neither was seen for an hour.
 */
export const longRunDraw = measure((analysis, session): Measured | null => {
  const slept = analysis.stands.filter((stand) => stand.sleepDrawA !== null);
  const ofStandS = (stand: Stand) => stand.asleepS + stand.awakeS - apartS(analysis, session, stand);
  const seconds = total(slept, ofStandS);
  if (seconds >= 3600) {
    // What stayed on is told by itself; what a key-off brings once, or somebody switched on, comes in no long stand again and again.
    const told = toldApart(analysis, session);
    const isOfThese = (wake: Wake) => analysis.stands[wake.stand]?.sleepDrawA != null && !told(wake);
    const wakes = analysis.wakes.filter(isOfThese);
    const charges = wakeCharges(analysis, session);
    const onAh = total(wakes, (wake) => charges.get(wake) ?? 0) + dailyAh(analysis, session);
    const wakesA = (onAh * 3600) / seconds;
    const wakesU = combine(
      wakesA / Math.sqrt(wakes.length || 1),
      (edgesU(analysis, session, isOfThese) * 3600) / seconds,
    );
    const asleep = slept.flatMap((stand) =>
      stand.sleepDrawA ? [{ ...stand.sleepDrawA, weight: ofStandS(stand) }] : [],
    );
    const { value: asleepA, ...asleepU } = meanOf(asleep, seconds);
    return { value: asleepA + wakesA, ...widened(asleepU, wakesU) };
  }
  const awake = stayedAwake(analysis, session);
  const awakeS = total(awake, (stand) => stand.countedS);
  if (awakeS < 3600) return null;
  const draws = awake.flatMap(({ meanDrawA, countedS }) => (meanDrawA ? [{ ...meanDrawA, weight: countedS }] : []));
  return meanOf(draws, awakeS);
});

/** Mean of draws by the time that each held, s, of `seconds` in all. */
const meanOf = (draws: readonly (Measured & { readonly weight: number })[], seconds: number): Measured => ({
  value: total(draws, (draw) => draw.value * draw.weight) / seconds,
  ...together(draws),
});

/** Loads that are told as such; what comes and goes each day belongs to a long stand. */
function loadsApart(analysis: Analysis, session: Session) {
  const compared = standsCompared(analysis, session);
  return compared && compared.dailyT === null ? compared.loads : [];
}

/** What comes on each day at the same time and stays on for hours, which is no wake's in the accounts, Ah. */
function dailyAh(analysis: Analysis, session: Session): number {
  const compared = standsCompared(analysis, session);
  return compared && compared.dailyT !== null ? total(compared.loads, ({ chargeAh }) => chargeAh) : 0;
}

function toldApart(analysis: Analysis, session: Session): (wake: Wake) => boolean {
  const loads = loadsApart(analysis, session);
  const once = afterKeyOff(analysis, session)?.wakes;
  return (wake) =>
    once?.has(wake) === true ||
    isOfHeavyLoad(analysis, wake) ||
    loads.some(({ start, end }) => wake.start >= start && wake.start < end);
}

/** Time of them after the first sleep of a stand, s. */
function apartS(analysis: Analysis, session: Session, stand: Stand): number {
  const loads = loadsApart(analysis, session).filter((load) => analysis.stands[load.stand] === stand);
  return total(loads, ({ from, seconds }) => (from === 'within' ? seconds : 0));
}
