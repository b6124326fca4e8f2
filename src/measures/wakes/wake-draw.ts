/**
 * What wakes add to the draw of a parked vehicle. A wake longer than a vehicle may need to fall asleep is left out: that is
 * `held-awake`; and so is one in which somebody switched on a heavy load, and one that a key-off brings once (see
 * `after-key-off`).
 */
import type { Analysis, Measured, Wake } from '../../analysis/model.ts';
import { combine, together, widened } from '../../battery/uncertainty.ts';
import { wakeCharges } from '../account/stand-account.ts';
import { limitOf } from '../limit.ts';
import { measure } from '../measure.ts';
import { total } from '../spans.ts';
import { SLEEP_WITHIN } from '../stands.ts';
import { afterKeyOff } from './after-key-off.ts';
import { type WakePattern, wakePatterns } from './patterns.ts';
import { countU, edgesU, nightsU } from './wake-charge-u.ts';

export interface WakeDraw {
  /** Time in which wakes could be seen, s: asleep, and awake after the first sleep. */
  readonly seenS: number;
  /** Asleep alone, s. */
  readonly asleepS: number;
  readonly wakes: readonly Wake[];
  /** The dearest pattern among them; undefined without any. */
  readonly pattern: WakePattern | undefined;
  /** Asleep, what wakes add to it, and both together, A. */
  readonly sleepA: Measured;
  readonly wakesA: Measured;
  readonly meanA: Measured;
  /** The part of it that comes from wakes cut by the rows, standard uncertainty, A. */
  readonly edgesUA: number;
}

/** Null where the vehicle was never seen asleep. */
export const wakeDraw = measure((analysis, session): WakeDraw | null => {
  const slept = analysis.stands.filter((stand) => stand.sleepDrawA !== null);
  const asleepS = total(slept, (stand) => stand.asleepS);
  if (!(asleepS > 0)) return null;
  const longestS = limitOf(SLEEP_WITHIN, session).value;
  const once = afterKeyOff(analysis, session)?.wakes;
  const isBrief = (wake: Wake) => wake.seconds <= longestS && !isOfHeavyLoad(analysis, wake) && !once?.has(wake);
  const wakes = analysis.wakes.filter(isBrief);
  const seenS = asleepS + total(wakes, (wake) => wake.seconds);
  const patterns = wakePatterns(analysis, session).filter((pattern) => pattern.seconds <= longestS);
  const share = (of: (draw: Measured) => number) =>
    total(slept, (stand) => (stand.sleepDrawA ? of(stand.sleepDrawA) * stand.asleepS : 0)) / asleepS;

  const sleep = {
    value: share((draw) => draw.value),
    ...together(slept.flatMap(({ sleepDrawA, asleepS: weight }) => (sleepDrawA ? [{ ...sleepDrawA, weight }] : []))),
  };
  const charges = wakeCharges(analysis, session);
  const wakesA = (total(wakes, (wake) => charges.get(wake) ?? 0) * 3600) / seenS;
  const edgesUA = (edgesU(analysis, session, isBrief) * 3600) / seenS;
  const chargeUAh = Math.min(
    countU(analysis, session, isBrief),
    nightsU(analysis, isBrief) ?? Number.POSITIVE_INFINITY,
  );
  const wakesU = combine((chargeUAh * 3600) / seenS, edgesUA);
  const value = sleep.value + wakesA;
  return {
    seenS,
    asleepS,
    wakes,
    pattern: patterns[0],
    sleepA: sleep,
    wakesA: { value: wakesA, u: wakesU },
    meanA: { value, ...widened(sleep, wakesU) },
    edgesUA,
  };
});

/** A winch, a lift or a parking heater that somebody switched on, wakes nothing by itself. */
export function isOfHeavyLoad({ events }: Analysis, { start, seconds }: Wake): boolean {
  return events.some(
    (event) => event.kind === 'heavy-load' && event.start >= start - 60 && event.start <= start + seconds,
  );
}
