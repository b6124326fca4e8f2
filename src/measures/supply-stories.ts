/** What a lost supply was: a lithium battery that switched itself off, or one that was changed. */
import type { Analysis } from '../analysis/model.ts';
import { tileAt } from '../analysis/tiles/tiles.ts';
import { isLithium, perTwelveVolt } from '../battery/chemistry.ts';
import { median } from '../battery/statistics.ts';
import { measure } from './measure.ts';
import { batteryChange, formerBattery } from './present-battery.ts';
import { restedCharges } from './rested-charge.ts';
import { measuredCranks } from './starter.ts';

/** Lithium iron phosphate rests lower than this only when it is nearly empty, V for 12 V: far below its flat 13.0 to 13.3 V (trade tables, from memory). */
const LOW_LFP_V = 12.8;
/** Off for less than this, or when the technician removed the logger, it was no switch of the battery's own, s. Common practice, no source. */
const LEAST_CUT_S = 300;
const REMOVED_S = 900;
/** A stand that ends this near to the cut ends with it, s; and the last voltage is read so long before it. */
const JUST_BEFORE_S = 5;
const LOOK_BACK_S = 60;

export interface CutOff {
  /** Voltage before it, V. */
  readonly lastV: number;
  readonly cutT: number;
  readonly cutS: number;
}

/** A battery management opens its switch where the cells are empty: a stand that ends at nought with hardly any charge left. */
export const cutOff = measure((analysis, session): CutOff | null => {
  if (!isLithium(session.battery.chemistry)) return null;
  const removedT = (session.install.removedAtMs ?? Number.POSITIVE_INFINITY) / 1000;
  const leastV = LOW_LFP_V * perTwelveVolt(session.vehicle.systemV);
  for (const { kind, start, end } of analysis.periods) {
    if (kind !== 'disconnected' || end - start < LEAST_CUT_S || Math.abs(start - removedT) < REMOVED_S) continue;
    const isStand = analysis.stands.some((one) => one.start < start && one.end >= start - JUST_BEFORE_S);
    const lastV = analysis.tiles.v[tileAt(analysis.tiles, start - LOOK_BACK_S)];
    if (isStand && lastV !== undefined && lastV < leastV) return { lastV, cutT: start, cutS: end - start };
  }
  return null;
});

export interface BatteriesCompared {
  readonly changedT: number;
  /** State of charge at the latest rest, 0 to 1, and middle resistance of the cranks, Ω; null where none was measured. */
  readonly beforeCharge: number | null;
  readonly afterCharge: number | null;
  readonly beforeOhm: number | null;
  readonly afterOhm: number | null;
}

/** Null where the battery was not changed. */
export const batteriesCompared = measure((analysis, session): BatteriesCompared | null => {
  const [change, former] = [batteryChange(analysis, session), formerBattery(analysis, session)];
  if (!change || !former) return null;
  const chargeOf = (one: Analysis) => restedCharges(one, session).charges.at(-1)?.value ?? null;
  const ohmOf = (one: Analysis) => {
    const cranks = measuredCranks(one, session);
    return cranks.length > 0 ? median(cranks.map(({ resistanceOhm }) => resistanceOhm.value)) : null;
  };
  return {
    changedT: change.start,
    beforeCharge: chargeOf(former),
    afterCharge: chargeOf(analysis),
    beforeOhm: ohmOf(former),
    afterOhm: ohmOf(analysis),
  };
});
