/**
 * Key-offs after which far more goes out until the vehicle sleeps than after its others: something large ran on, such as a relay
 * that sticks for minutes. By time alone such a settling may be in order.
 */
import { USUAL_CAPACITY_AH } from '../battery/capacity.ts';
import { median } from '../battery/statistics.ts';
import type { Session } from '../manifest/session.ts';
import { heldLoads } from './account/held-loads.ts';
import { standsCompared } from './account/stands-compared.ts';
import { type Settling, settlings } from './circuits/settlings.ts';
import { measure } from './measure.ts';
import { mostBy } from './spans.ts';

export interface CostlySettlings {
  readonly costly: readonly Settling[];
  readonly most: Settling;
  readonly seen: number;
  /** Median charge of those that are not, Ah; null without any. */
  readonly usualAh: number | null;
}

/** More than this part of the capacity, and so many times what is usual for the vehicle; or, whatever is usual, this part. Common practice, no source. */
const COSTLY = 0.03;
const TIMES_USUAL = 5;
const COSTLY_IN_ANY_CASE = 0.08;

/** Null where none is. What never slept, and what stayed on for longer than a vehicle may need, are told as such. */
export const costlySettlings = measure((analysis, session): CostlySettlings | null => {
  const held = heldLoads(analysis, session).filter(({ from }) => from === 'key-off');
  return among(
    settlings(analysis, session).all.filter(({ start }) => !held.some((load) => load.start === start)),
    session,
  );
});

/**
 * What at times runs on after a key-off and is gone before the vehicle sleeps, beyond what is usual, Ah: the most that was seen, however long
 * it took. A load that is held stand against stand is left out: of that the draw tells.
 */
export const ranOnAh = measure((analysis, session): number => {
  const told = standsCompared(analysis, session)?.loads ?? [];
  const found = among(
    settlings(analysis, session).all.filter(({ start }) => !told.some((load) => load.start === start)),
    session,
  );
  return found ? found.most.chargeAh - (found.usualAh ?? 0) : 0;
});

function among(settled: readonly Settling[], session: Session): CostlySettlings | null {
  const all = settled.filter(({ seconds }) => seconds !== null);
  const capacityAh = session.battery.capacityAh ?? USUAL_CAPACITY_AH;
  const middleAh = median(all.map(({ chargeAh }) => chargeAh));
  const isCostly = ({ chargeAh }: Settling) =>
    chargeAh >= COSTLY_IN_ANY_CASE * capacityAh ||
    (chargeAh >= COSTLY * capacityAh && chargeAh >= TIMES_USUAL * middleAh);
  const costly = all.filter(isCostly);
  const most = mostBy(costly, ({ chargeAh }) => chargeAh);
  if (!most) return null;
  const others = all.filter((settling) => !isCostly(settling)).map(({ chargeAh }) => chargeAh);
  return { costly, most, seen: all.length, usualAh: others.length > 0 ? median(others) : null };
}
