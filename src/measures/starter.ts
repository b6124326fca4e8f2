/** What the cranks show of battery and starter together: battery-resistance and current-path ask it. */

import type { Crank, Measured } from '../analysis/model.ts';
import { isLithium, perTwelveVolt } from '../battery/chemistry.ts';
import { ratedResistanceOhm } from '../battery/rated-resistance.ts';
import { median } from '../battery/statistics.ts';
import type { Session } from '../manifest/session.ts';
import { clippingOf, plateauClipped } from './clipping.ts';
import { measure } from './measure.ts';
import { presentBattery } from './present-battery.ts';

export type MeasuredCrank = Crank & { readonly resistanceOhm: Measured };

/** Cranks whose two-point resistance can be believed: enough samples, and current within the sensor's range. */
export const measuredCranks = measure((analysis, session): MeasuredCrank[] => {
  const clipping = clippingOf(analysis, session);
  return presentBattery(analysis, session).cranks.filter(
    (crank): crank is MeasuredCrank =>
      crank.resistanceOhm !== null && crank.resistanceOhm.value > 0 && !plateauClipped(crank, clipping),
  );
});

/** The rating's own resistance, Ω; of the standards the most lenient where the manifest names none. Null without a rating. */
export function ratingOhm({ battery, vehicle }: Session, temperatureC: number | null): number | null {
  if (battery.coldCrankingA === undefined || isLithium(battery.chemistry)) return null;
  return ratedResistanceOhm({
    coldCrankingA: battery.coldCrankingA,
    standard: battery.crankingStandard ?? 'SAE',
    systemV: vehicle.systemV,
    temperatureC,
  });
}

/** 12 V lead-acid: resistance × capacity of a battery that just meets a usual rating, Ω·Ah. Common practice, no source. */
const USUAL_OHM_AH = 0.5;

/** Resistance to expect at most of a sound battery, Ω: from its rating, else from its size; null where neither is known, and for lithium, whose starter batteries follow no such rule. */
export function usualOhm(session: Session): number | null {
  const { capacityAh, chemistry } = session.battery;
  if (isLithium(chemistry)) return null;
  const rated = ratingOhm(session, null);
  if (rated !== null || capacityAh === undefined) return rated;
  return (perTwelveVolt(session.vehicle.systemV) * USUAL_OHM_AH) / capacityAh;
}

/** Steady draws of starters against the battery they come with, least: A for each A of cold cranking, and for each Ah. Common practice, no source. */
const LEAST_OF_COLD_CRANKING = 0.2;
const LEAST_PER_AH = 1.2;

/** What starter and battery show together. */
export interface StarterSeen {
  readonly ohm: number;
  /** Steady draw, A; an upper bound of it where the log is too slow for one. */
  readonly drawA: number | null;
}

/**
 * True where starts show a high resistance together with a draw too small for any starter that goes with the battery. A
 * worn battery does not make the starter draw so little; a current of which the sensor sees a part does both.
 */
export function starterDrawsTooLittle({ ohm, drawA }: StarterSeen, session: Session): boolean {
  const usual = usualOhm(session);
  const { coldCrankingA, capacityAh } = session.battery;
  if (usual === null || drawA === null) return false;
  const leastA =
    coldCrankingA !== undefined ? LEAST_OF_COLD_CRANKING * coldCrankingA : LEAST_PER_AH * (capacityAh ?? 0);
  return drawA < leastA && ohm > usual;
}

/** Middle resistance and draw of cranks; null without any. */
export function seenInCranks(cranks: readonly MeasuredCrank[]): StarterSeen | null {
  if (cranks.length === 0) return null;
  return { ohm: median(cranks.map((crank) => crank.resistanceOhm.value)), drawA: starterA(cranks) };
}

/** Middle of the steady draws while cranking, A: the fall of voltage over the resistance that was measured with it. */
export function starterA(cranks: readonly MeasuredCrank[]): number | null {
  const draws = cranks.flatMap(({ voltsBefore, voltsCranking, resistanceOhm }) =>
    voltsCranking ? [(voltsBefore - voltsCranking.value) / resistanceOhm.value] : [],
  );
  return draws.length > 0 ? median(draws) : null;
}
