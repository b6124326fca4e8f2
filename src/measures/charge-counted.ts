/** Charge counted between two moments, s since the epoch, and how sure it is. */
import type { Analysis, Period, PeriodKind } from '../analysis/model.ts';
import { tilesWithin } from '../analysis/tiles/tiles-in.ts';
import { countedU, startsBetweenRows } from '../analysis/totals.ts';
import { expand } from '../battery/uncertainty.ts';
import type { Session } from '../manifest/session.ts';
import { total } from './spans.ts';

/** Into the battery less out of it, Ah; a period that reaches over one of the moments counts with its share. */
export function netChargeAh(periods: readonly Period[], from: number, to: number): number {
  return total(periods, ({ start, end, chargeInAh, chargeOutAh }) => {
    const share = Math.max(0, Math.min(to, end) - Math.max(from, start)) / (end - start || 1);
    return share * (chargeInAh - chargeOutAh);
  });
}

/**
 * What went in while a vehicle stood awake, Ah, as its own converter feeds it. What goes into a battery asleep without waking anything is
 * a sensor whose zero is off.
 */
export const fedAwakeAh = ({ periods }: Pick<Analysis, 'periods'>): number =>
  total(periods, ({ kind, chargeInAh }) => (kind === 'awake' || kind === 'settling' ? chargeInAh : 0));

export interface Balance {
  readonly inAh: number;
  readonly outAh: number;
  /** What a shop charger put in, told apart and not counted. */
  readonly chargerAh: number;
  /** In less out, its expanded uncertainty, and the factor of that. */
  readonly netAh: number;
  readonly U: number;
  readonly k: number;
}

/** Of the periods that lie whole between the two. */
export function balanceOf(analysis: Analysis, session: Session, from: number, to: number): Balance {
  // In a hybrid or electric vehicle, charging while parked is its own converter's work.
  const leftOut: PeriodKind[] = session.vehicle.powertrain === 'combustion' ? ['on-charger'] : [];
  const inside = analysis.periods.filter((period) => period.start >= from && period.end <= to);
  const counted = inside.filter((period) => !leftOut.includes(period.kind));
  const charger = inside.filter((period) => leftOut.includes(period.kind));
  const inAh = total(counted, (period) => period.chargeInAh);
  const outAh = total(counted, (period) => period.chargeOutAh);
  const netAh = inAh - outAh;
  const chargerAh = total(charger, (period) => period.chargeInAh);
  const span = { start: from, end: to };
  const { tiles, resolution, noiseA } = analysis;
  const startsAh = startsBetweenRows(analysis, session, span);
  const { u, k } = countedU({ tiles, sensors: { session, resolution }, noiseA }, tilesWithin(tiles, span), netAh, [
    startsAh,
  ]);
  return { inAh, outAh, chargerAh, netAh, U: expand(u, k), k };
}
