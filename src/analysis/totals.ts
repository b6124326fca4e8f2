/** The log as a whole: charge in and out with what is known of it, and time by state. */
import { beyondZero } from '../battery/statistics.ts';
import { accuracyBounds, combine, type Uncertainty, uncertaintyOf } from '../battery/uncertainty.ts';
import type { Session } from '../manifest/session.ts';
import type { Analysis, Period, PeriodKind, Span, Stand, Totals } from './model.ts';
import type { Tiles } from './tiles/tiles.ts';
import { tilesWithinAll } from './tiles/tiles-in.ts';
import { accuracyOf, type Sensors, stepLeft } from './uncertain.ts';

export interface CountedCharge {
  readonly tiles: Tiles;
  readonly sensors: Sensors;
  /** Standard deviation of single readings while quiet, A; null where it is not known. */
  readonly noiseA: number | null;
}

/** What was on a charger, disconnected or missing is left out of charge in and out. */
export function totalsOf(
  counted: CountedCharge,
  periods: readonly Period[],
  stands: readonly Pick<Stand, 'countedS'>[],
  startsAh: number,
): Totals {
  const time = (kind: PeriodKind) => periods.reduce((sum, p) => sum + (p.kind === kind ? p.end - p.start : 0), 0);
  const counts = periods.filter((p) => p.kind !== 'on-charger' && p.kind !== 'disconnected');
  const chargeInAh = counts.reduce((sum, p) => sum + p.chargeInAh, 0);
  const chargeOutAh = counts.reduce((sum, p) => sum + p.chargeOutAh, 0);
  const fills = (p: Period) => p.chargeInAh > p.chargeOutAh;
  // An offset that turns a draw round takes it out of the charge out: only what surely fills has no part in that.
  const [, offsetA] = accuracyBounds(accuracyOf('current', counted.sensors.session), 0);
  const surelyFills = (p: Period) => (p.chargeInAh - p.chargeOutAh) * 3600 > offsetA * (p.end - p.start);
  const tilesOf = (some: readonly Period[]) => tilesWithinAll(counted.tiles, some);
  const bothWaysAh = hiddenAh(counted, tilesOf(counts.filter((p) => p.kind === 'driving')));
  // A change from the one to the other lies in a step that counts as either.
  const jumps = tilesOf(counts);
  return {
    chargeInAh,
    chargeOutAh,
    chargeInU: countedU(counted, tilesOf(counts.filter(fills)), chargeInAh, [bothWaysAh], jumps),
    chargeOutU: countedU(
      counted,
      tilesOf(counts.filter((p) => !surelyFills(p))),
      chargeOutAh,
      [bothWaysAh, startsAh],
      jumps,
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
 * Charge that went in and out again within a tile, of which only the net is counted, Ah: normal scatter about the tile's mean,
 * as far as its readings differ by more than the sensor's noise.
 */
function hiddenAh({ tiles, noiseA }: CountedCharge, chosen: Iterable<number>): number {
  let hiddenAs = 0;
  for (const k of chosen) {
    if (!(tiles.iMin[k] < 0 && tiles.iMax[k] > 0)) continue;
    const square = (tiles.iRough[k] ** 2 * Math.PI) / 4 - (noiseA ?? 0) ** 2;
    if (square > 0) hiddenAs += tiles.iCov[k] * beyondZero(Math.abs(tiles.i[k]), Math.sqrt(square));
  }
  return hiddenAs / 3600;
}

/**
 * Charge of starts that fell between two rows, at most, Ah: of drives that the log holds from their begin, and no crank with them.
 * A starter takes up to 6 A·s for each Ah of its battery (400 A for a second at 70 Ah). Common practice, no source.
 */
export function startsBetweenRows(
  { drives, cranks, start }: Pick<Analysis, 'drives' | 'cranks' | 'start'>,
  { vehicle, battery }: Session,
  { start: from, end: to }: Span,
): number {
  if (vehicle.powertrain !== 'combustion') return 0;
  const unseen = drives.filter(
    (drive) =>
      drive.start > start + NEAR_S &&
      drive.start >= from &&
      drive.start <= to &&
      !cranks.some(({ at }) => Math.abs(at - drive.start) < NEAR_S),
  );
  return (unseen.length * STARTER_AS_PER_AH * (battery.capacityAh ?? USUAL_AH)) / 3600;
}

const NEAR_S = 120;
const STARTER_AS_PER_AH = 6;
const USUAL_AH = 70;

/**
 * Uncertainty of a charge, Ah, counted over spans of the log. Offset and gain are the same in every reading, so what they bring
 * grows with the time or the charge and nothing averages it out; a steady draw between two steps of the log reads as one
 * of them all along, unless noise takes it over both. What the rows leave open between them is `sampledU`.
 *
 * @param chosen tiles that it was counted over
 * @param others half-widths of what else it may be off by, Ah
 * @param jumping tiles whose changes of current matter
 */
export function countedU(
  { tiles, sensors, noiseA }: CountedCharge,
  chosen: Iterable<number>,
  chargeAh: number,
  others: readonly number[] = [],
  jumping: Iterable<number> = chosen,
): Uncertainty {
  let seconds = 0;
  let rows = 0;
  for (const k of chosen) {
    seconds += tiles.iCov[k];
    rows += tiles.rows[k];
  }
  const hours = seconds / 3600;
  const { session, resolution } = sensors;
  const [gainAh, offsetA] = accuracyBounds(accuracyOf('current', session), chargeAh);
  const noise = noiseA ?? 0;
  const bounds = [gainAh, offsetA * hours, stepLeft(resolution.i, noise) * hours, ...others];
  const restU = combine(rows > 0 ? (noise * hours) / Math.sqrt(rows) : 0, sampledU(tiles, jumping));
  return uncertaintyOf(bounds, restU);
}

/**
 * Standard uncertainty of a charge from what flowed between the rows, Ah, by the trapezium rule. A change that stays lies anywhere
 * between its two rows: rectangular, half of change × step each way (JCGM 100, 4.3.7). A reading that comes and goes again stands
 * for its own step, whether what it caught lasted shorter or longer: each step then varies as the readings do (JCGM 100, 4.2), and
 * that shows in neighbouring changes of opposite sign. Readings of variance σ² that are independent have a mean square change of
 * 2σ² and a mean product of −σ²; a twelfth of the one and five sixths of the other make σ² for each.
 */
export function sampledU({ jumpsAs2, turnsAs2 }: Tiles, chosen: Iterable<number>): number {
  let jumps = 0;
  let turns = 0;
  for (const k of chosen) {
    jumps += jumpsAs2[k];
    turns += turnsAs2[k];
  }
  return Math.sqrt(jumps / 12 + (5 / 6) * Math.max(0, -turns)) / 3600;
}
