/** Charge counted between two moments, s since the epoch, and how sure it is. */
import type { Analysis, Period, PeriodKind } from '../analysis/model.ts';
import { chargeUncertainty } from '../analysis/totals.ts';
import { accuracyU, combine, expand } from '../battery/uncertainty.ts';
import type { Session } from '../manifest/session.ts';
import { ASSUMED_ACCURACY, accuracyStated } from './sensor.ts';
import { total } from './spans.ts';

/** Into the battery less out of it, Ah; a period that reaches over one of the moments counts with its share. */
export function netChargeAh(periods: readonly Period[], from: number, to: number): number {
  return total(periods, ({ start, end, chargeInAh, chargeOutAh }) => {
    const share = Math.max(0, Math.min(to, end) - Math.max(from, start)) / (end - start || 1);
    return share * (chargeInAh - chargeOutAh);
  });
}

export interface Balance {
  readonly inAh: number;
  readonly outAh: number;
  /** What a shop charger put in, told apart and not counted. */
  readonly chargerAh: number;
  /** In less out, and its expanded uncertainty. */
  readonly netAh: number;
  readonly U: number;
}

/** Of the periods that lie whole between the two. Where no accuracy is stated the assumed one is added. */
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
  return { inAh, outAh, chargerAh, netAh, U: balanceU(analysis, session, from, to, netAh) };
}

function balanceU(analysis: Analysis, session: Session, from: number, to: number, netAh: number): number {
  const { tiles, resolution, noiseA } = analysis;
  const counted = { tiles, sensors: { session, resolution }, noiseA };
  const { u, k } = chargeUncertainty(counted, [{ start: from, end: to }], netAh);
  if (accuracyStated('current', session)) return expand(u, k);
  const hours = (to - from) / 3600;
  return expand(combine(u, hours * accuracyU(ASSUMED_ACCURACY.current, netAh / hours)));
}
