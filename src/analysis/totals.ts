/** The log as a whole: charge in and out with what is known of it, and time by state. */
import { accuracyBounds, combine, coverageFactor, rectangular } from '../battery/uncertainty.ts';
import type { Period, PeriodKind, Stand, Totals, Uncertainty } from './model.ts';
import type { Tiles } from './tiles/tiles.ts';
import { NONE, type Sensors } from './uncertain.ts';

export interface CountedCharge {
  readonly tiles: Tiles;
  readonly sensors: Sensors;
  /** Standard deviation of single readings while quiet, A; null where it is not known. */
  readonly noiseA: number | null;
}

/** What was on a charger, disconnected or missing is left out of charge in and out. */
export function totalsOf(counted: CountedCharge, periods: readonly Period[], stands: readonly Stand[]): Totals {
  const time = (kind: PeriodKind) => periods.reduce((sum, p) => sum + (p.kind === kind ? p.end - p.start : 0), 0);
  const counts = periods.filter((p) => p.kind !== 'on-charger' && p.kind !== 'disconnected');
  const chargeInAh = counts.reduce((sum, p) => sum + p.chargeInAh, 0);
  const chargeOutAh = counts.reduce((sum, p) => sum + p.chargeOutAh, 0);
  const fills = (p: Period) => p.chargeInAh > p.chargeOutAh;
  return {
    chargeInAh,
    chargeOutAh,
    chargeInU: chargeUncertainty(counted, counts.filter(fills), chargeInAh),
    chargeOutU: chargeUncertainty(
      counted,
      counts.filter((p) => !fills(p)),
      chargeOutAh,
    ),
    drivingS: time('driving'),
    parkedS: stands.reduce((sum, stand) => sum + stand.countedS, 0),
    asleepS: time('asleep'),
    awakeS: time('awake'),
    settlingS: time('settling'),
    chargerS: time('on-charger'),
    chargerInAh: periods.reduce((sum, p) => sum + (p.kind === 'on-charger' ? p.chargeInAh : 0), 0),
    disconnectedS: time('disconnected'),
  };
}

/**
 * Uncertainty of a charge, Ah, counted over spans of the log. Offset and gain are the same in every reading, so what they bring
 * grows with the time or the charge and nothing averages it out; a steady draw between two steps of the log reads as one
 * of them all along, unless noise takes it over both. A change of current lies anywhere between its two rows: rectangular, half
 * of change × step each way (JCGM 100, 4.3.7, from memory).
 *
 * @param spans in order, without overlap
 * @param chargeAh counted in them; of a balance, the net
 */
export function chargeUncertainty(
  { tiles, sensors, noiseA }: CountedCharge,
  spans: readonly { readonly start: number; readonly end: number }[],
  chargeAh: number,
): Uncertainty {
  let seconds = 0;
  let rows = 0;
  let jumpsAs2 = 0;
  let at = 0;
  for (let k = 0; k < tiles.n; k++) {
    while (at < spans.length && spans[at].end <= tiles.t0[k]) at++;
    if (at === spans.length) break;
    if (tiles.t1[k] <= spans[at].start) continue;
    seconds += tiles.iCov[k];
    rows += tiles.rows[k];
    jumpsAs2 += tiles.jumpsAs2[k];
  }
  const hours = seconds / 3600;
  const { session, resolution } = sensors;
  const [gainAh, offsetA] = accuracyBounds(session.log.columns.current?.accuracy ?? NONE, chargeAh);
  const noise = noiseA ?? 0;
  const stepA = noise > resolution.i / 2 ? 0 : resolution.i / 2;
  const bounds = [gainAh, offsetA * hours, stepA * hours];
  const restU = combine(rows > 0 ? (noise * hours) / Math.sqrt(rows) : 0, Math.sqrt(jumpsAs2 / 12) / 3600);
  return { u: combine(...bounds.map(rectangular), restU), k: coverageFactor(bounds, restU) };
}
