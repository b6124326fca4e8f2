/** Stand by stand, and day by day of a long one: how cold it got, and where the acid would freeze at the charge it had. */
import type { Analysis, Span, Stand } from '../analysis/model.ts';
import { freezingPointC } from '../battery/freezing.ts';
import type { Session } from '../manifest/session.ts';
import { netChargeAh } from './charge-counted.ts';
import { measure } from './measure.ts';
import { parkedTiles } from './parked-voltage.ts';
import { presentBattery } from './present-battery.ts';
import { type RestedCharge, restedCharges } from './rested-charge.ts';
import { temperatureU } from './sensor.ts';
import { mostBy } from './spans.ts';
import { type Sustained, sustained } from './sustained.ts';

export interface FreezeRisk {
  readonly stand: Stand;
  /** A day of it, or what is left of one. */
  readonly span: Span;
  readonly cold: Sustained;
  readonly charge: RestedCharge;
  /** Freezing points that the charge's uncertainty leaves open, °C: the middle, the coldest and the warmest. */
  readonly freezesC: number;
  readonly coldestC: number;
  readonly warmestC: number;
  /** Expanded uncertainty of temperature and freezing point together, °C. */
  readonly U: number;
}

/** A battery that empties while it stands is not at its lowest where it is coldest, s. */
const DAY_S = 86_400;

/** One for each day of each stand with a temperature, in order; none where no rest shows a charge. */
export const freezeRisks = measure((all, session): readonly FreezeRisk[] => {
  const analysis = presentBattery(all, session);
  const parked = parkedTiles(analysis, session);
  const { charges } = restedCharges(analysis, session);
  const { tiles } = analysis;
  return analysis.stands.flatMap((stand) => {
    return daysOf(stand).flatMap((span) => riskIn(stand, span) ?? []);
  });

  function riskIn(stand: Stand, span: Span): FreezeRisk | null {
    const inside = parked.filter(
      (k) => tiles.t0[k] >= span.start && tiles.t0[k] < span.end && tiles.t1[k] <= stand.end,
    );
    const cold = sustained(tiles, tiles.temp, inside, 'lowest');
    const charge = cold && chargeAt(analysis, session, charges, stand, cold.from);
    if (!charge) return null;
    const warmestC = freezingPointC(Math.max(0, charge.value - charge.U)).high;
    const coldestC = freezingPointC(Math.min(1, charge.value + charge.U)).low;
    const U = (warmestC - coldestC) / 2 + temperatureU(cold.value, session);
    return { stand, span, cold, charge, freezesC: (warmestC + coldestC) / 2, coldestC, warmestC, U };
  }
});

function daysOf({ start, end }: Span): Span[] {
  const days = Math.max(1, Math.ceil((end - start) / DAY_S));
  return Array.from({ length: days }, (_, k) => ({
    start: start + k * DAY_S,
    end: Math.min(end, start + (k + 1) * DAY_S),
  }));
}

/** By this part of the charge counted between a rest and another stand its state of charge is uncertain. Common practice, no source. */
const COUNTED_U = 0.2;

/**
 * Charge at time `t` of a stand: that of the nearest rest, with what was counted between the two. Where nothing was counted
 * it is that of the stand's own rest, and without one it may be any.
 */
function chargeAt(
  { periods, has }: Analysis,
  { battery }: Session,
  charges: readonly RestedCharge[],
  stand: Stand,
  t: number,
): RestedCharge | undefined {
  const isOwn = ({ rest }: RestedCharge) => rest.at >= stand.start && rest.at <= stand.end;
  const near = charges.find(isOwn) ?? mostBy(charges, ({ rest }) => -Math.abs(rest.at - t));
  if (!near) return undefined;
  if (battery.capacityAh === undefined || !has.current) return isOwn(near) ? near : { ...near, value: 0.5, U: 0.5 };
  const [from, to] = [Math.min(near.rest.at, t), Math.max(near.rest.at, t)];
  const netAh = netChargeAh(periods, from, to);
  const change = (near.rest.at < t ? netAh : -netAh) / battery.capacityAh;
  const value = Math.min(1, Math.max(0, near.value + change));
  return { ...near, value, U: near.U + COUNTED_U * Math.abs(change) };
}
