/** What a lost supply was: a lithium battery that switched itself off, or one that was changed. */
import type { Analysis, Span } from '../analysis/model.ts';
import { tileAt } from '../analysis/tiles/tiles.ts';
import { tilesWithin } from '../analysis/tiles/tiles-in.ts';
import { isLithium, perTwelveVolt } from '../battery/chemistry.ts';
import { median } from '../battery/statistics.ts';
import type { Session } from '../manifest/session.ts';
import { measure } from './measure.ts';
import { batteryChange, formerBattery } from './present-battery.ts';
import { restedCharges } from './rested-charge.ts';
import { total } from './spans.ts';
import { measuredCranks } from './starter.ts';
import { supplyHoles } from './supply-holes.ts';

/** Lithium iron phosphate rests lower than this only when it is nearly empty, V for 12 V: far below its flat 13.0 to 13.3 V (trade tables, from memory). */
const LOW_LFP_V = 12.8;
/** Off for less than this, or when the technician removed the logger, it was no switch of the battery's own, s. Common practice, no source. */
const LEAST_CUT_S = 300;
const REMOVED_S = 900;
/** A stand that ends this near to the cut ends with it, s; and the last voltage is read so long before it. */
const JUST_BEFORE_S = 5;
const LOOK_BACK_S = 60;
/** What lies between two losses for no longer than this is no battery that came back, s. Common practice, no source. */
const BRIEF_S = 900;

/** A battery management opens its switch where the cells are empty. */
export interface CutOff {
  /** Voltage before the first, V. */
  readonly lastV: number;
  readonly cutT: number;
  /** Of the first one, s. */
  readonly cutS: number;
  readonly cuts: number;
  /** All of them, s. */
  readonly cutOffS: number;
  /** When the last one was over; null where the log ends with it. */
  readonly backT: number | null;
  /** Something charged it when it came back. */
  readonly backByCharge: boolean;
  /** The logger wrote nothing meanwhile. */
  readonly dark: boolean;
  /** The highest voltage at the wires meanwhile, where something held one, V. */
  readonly heldV: number | null;
}

/** Stands that end at nought, or in a hole, with hardly any charge left; null where none does. */
export const cutOff = measure((analysis, session): CutOff | null => {
  if (!isLithium(session.battery.chemistry)) return null;
  const removedT = (session.install.removedAtMs ?? Number.POSITIVE_INFINITY) / 1000;
  const leastV = LOW_LFP_V * perTwelveVolt(session.vehicle.systemV);
  const cuts = losses(analysis, session).flatMap((loss) => {
    const { start, end } = loss;
    if (end - start < LEAST_CUT_S || Math.abs(start - removedT) < REMOVED_S) return [];
    const isStand = analysis.stands.some((one) => one.start < start && one.end >= start - JUST_BEFORE_S);
    const lastV = analysis.tiles.v[tileAt(analysis.tiles, start - LOOK_BACK_S)];
    return isStand && lastV !== undefined && lastV < leastV ? [{ ...loss, lastV }] : [];
  });
  const [first, last] = [cuts[0], cuts.at(-1)];
  if (!first || !last) return null;
  const next = analysis.periods.find(({ start }) => start >= last.end - 1e-3);
  return {
    lastV: first.lastV,
    cutT: first.start,
    cutS: first.end - first.start,
    cuts: cuts.length,
    cutOffS: total(cuts, ({ start, end }) => end - start),
    backT: next ? last.end : null,
    backByCharge: next?.kind === 'on-charger' || next?.kind === 'driving' || next?.kind === 'cranking',
    dark: cuts.every(({ dark }) => dark),
    heldV: heldV(analysis, session, cuts),
  };
});

/** Null where nothing held them at a battery's voltage. */
function heldV({ tiles, periods }: Analysis, { vehicle }: Session, cuts: readonly Span[]): number | null {
  const off = periods.filter(({ kind }) => kind === 'disconnected');
  const inside = cuts.flatMap((cut) => off.filter(({ start, end }) => start >= cut.start && end <= cut.end));
  const most = inside.flatMap((one) => tilesWithin(tiles, one)).reduce((high, k) => Math.max(high, tiles.v[k] || 0), 0);
  return most > LOW_LFP_V * perTwelveVolt(vehicle.systemV) ? most : null;
}

/** Time without a battery, or without rows; moments between belong to it. */
function losses(analysis: Analysis, session: Session): readonly (Span & { readonly dark: boolean })[] {
  const holes = new Set(supplyHoles(analysis, session).all);
  const joined: { start: number; end: number; dark: boolean }[] = [];
  for (const period of analysis.periods) {
    const { kind, start, end } = period;
    const isHole = holes.has(period);
    if (kind !== 'disconnected' && !isHole) continue;
    const last = joined.at(-1);
    if (last && start - last.end < BRIEF_S) Object.assign(last, { end, dark: last.dark && isHole });
    else joined.push({ start, end, dark: isHole });
  }
  return joined;
}

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
