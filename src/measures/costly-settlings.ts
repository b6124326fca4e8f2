/**
 * Key-offs after which far more goes out until the vehicle sleeps than after its others: something large ran on, such as a relay
 * that sticks for minutes. By time alone such a settling may be in order.
 */
import { USUAL_CAPACITY_AH } from '../battery/capacity.ts';
import { median } from '../battery/statistics.ts';
import { heldLoads } from './account/held-loads.ts';
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

/** Null where none is. */
export const costlySettlings = measure((analysis, session): CostlySettlings | null => {
  // What never slept, and what stayed on for longer than a vehicle may need, are told as such.
  const held = heldLoads(analysis, session);
  const all = settlings(analysis, session).all.filter(
    ({ start, seconds }) => seconds !== null && !held.some((load) => load.from === 'key-off' && load.start === start),
  );
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
});
