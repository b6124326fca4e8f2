/**
 * Whether something feeds the battery in a tile, from current and voltage alone: an engine's generator, a DC–DC converter,
 * a charger or the sun; which of them is for the whole reading to say. Figures are common practice, no source, for 12 V.
 */

import { perTwelveVolt } from '../../battery/chemistry.ts';
import { median } from '../../battery/statistics.ts';
import type { Session } from '../../manifest/session.ts';
import type { Lift } from '../cranks/lift.ts';
import type { TileSpan, Tiles } from '../tiles/tiles.ts';
import { type Restlessness, restlessness } from './restless.ts';

/** Fed once it has lasted this long; over once it has been gone this long, s. */
const BEGIN_S = 4;
const END_S = 8;
/** Draw of a vehicle asleep that a float charger would carry, A. */
const RESTING_LFP_A = 0.01;
/** A battery that nothing feeds and that feeds nothing: it loses so much, V, in such a time, s, while surface charge goes. */
const SINKS_V = 0.02;
const SINKS_S = 10;
/** Later, with nothing flowing in, more slowly; and from no more than this above the voltage that feeding begins at, V. */
const SAGS_V = 0.03;
const SAGS_S = 240;
const SURFACE_V = 0.3;
/**
 * What keeps so high a voltage, V, for so long, s, while current still flows in is fed, though it fell before: a charger that changes from filling
 * to floating. One of lithium iron phosphate rests there by itself.
 */
const HOLDS_V = 0.015;
const HOLDS_S = 1200;
/** A hole longer than this ends what went on before it, s. */
const HOLE_S = 60;
/** Longest that a regulator lets the voltage down for, s; and what flows in at the most, A and V, where nothing does. */
const LOWERED_S = 7200;
const TRICKLE_A = 1;
const RISE_V = 0.05;
/**
 * Whatever begins to feed lifts the voltage, V, by more than the end of a draw does, Ω of a worn battery; or turns the current, A, round
 * from where nothing fed.
 */
const BEGINS_V = 0.02;
const BEGINS_OHM = 0.02;
const BEGINS_A = 0.1;
/** An empty battery that takes current rises above this at once, V. */
const LEAST_FED_V = 10;
/** Least current that flows in for sure, A, and in offsets that the sensor's maker states. */
const INTO_A = 0.3;
const INTO_OFFSETS = 2;
/** Out of the battery for sure, A; and as good as nothing, either way. */
const DRAWN_A = 0.15;
const NOTHING_A = 0.05;
/** A current at rest changes by less from reading to reading: A, and times what it does asleep. */
const QUIET_A = 0.05;
const QUIET_FLOORS = 2.5;
/**
 * V: from `high` on something feeds it, if little is drawn; below `low` nothing does, unless current flows in; `rest` is the
 * highest that it rests at.
 */
const LEAD_V = { high: 13.4, low: 12.9, rest: 12.9 };
const LFP_V = { high: 13.8, low: 13.2, rest: 13.35 };
/** Without current: so far below `high` it is still fed, and so far it may be, V. */
const ALONE_FED_V = 0.1;
const ALONE_OPEN_V = 0.2;
/** The same where the log's starts lift the voltage to less: parts of that lift. */
const LIFTED_FED = 0.6;
const LIFTED_OPEN = 0.4;

/** 1 for each tile in which the battery is fed. `lifts`: of the log's starts, where it has no current. */
export function findFeeding(
  tiles: Tiles,
  session: Session,
  floor: Restlessness,
  lifts: readonly Lift[] = [],
): Uint8Array {
  const alone = aloneLevels(session, lifts);
  const asRead = feedingWith(tiles, session, floor, 0, alone);
  const zeroA = zeroOf(tiles, session, floor, asRead);
  return zeroA > 0 ? feedingWith(tiles, session, floor, zeroA, alone) : asRead;
}

interface AloneLevels {
  readonly fedV: number;
  readonly openV: number;
}

/**
 * A meter far from the battery reads less than its posts have: what this log's starts lift the voltage to is being fed. Where they lift it to what
 * charging usually reads, that is what tells, for a battery just off charge keeps more than a part of a lift.
 */
function aloneLevels(session: Session, lifts: readonly Lift[]): AloneLevels {
  const scale = perTwelveVolt(session.vehicle.systemV);
  const { high } = levelsOf(session);
  const usual = { fedV: high - ALONE_FED_V * scale, openV: high - ALONE_OPEN_V * scale };
  if (lifts.length === 0) return usual;
  const restV = median(lifts.map((lift) => lift.restV));
  const toV = median(lifts.map((lift) => lift.toV));
  if (!(toV < usual.fedV)) return usual;
  return { fedV: restV + LIFTED_FED * (toV - restV), openV: restV + LIFTED_OPEN * (toV - restV) };
}

function feedingWith(
  tiles: Tiles,
  session: Session,
  floor: Restlessness,
  zeroA: number,
  alone: AloneLevels,
): Uint8Array {
  const sign = signOf(tiles, session, floor, zeroA, alone);
  const fed = new Uint8Array(tiles.n);
  let isFed = false;
  /** First tile of a run that speaks against the present state, and the time it has spoken for. */
  let since = -1;
  let spokenS = 0;
  /** The last tile in which nothing fed for sure, since when nothing has; −1 for none. */
  let unfed = -1;
  for (let k = 0; k < tiles.n; k++) {
    if (k > 0 && tiles.t0[k] - tiles.t1[k - 1] > HOLE_S) {
      if (isFed && spokenS > 0) fed.fill(0, since, k);
      isFed = false;
      since = -1;
      spokenS = 0;
      unfed = -1;
    }
    const now = sign(k, unfed);
    if (now < 0) unfed = k;
    else if (isFed) unfed = -1;
    const against = isFed ? -1 : 1;
    if (now === against) {
      if (since < 0) since = k;
      spokenS += tiles.t1[k] - tiles.t0[k];
      if (spokenS >= (isFed ? END_S : BEGIN_S)) {
        isFed = !isFed;
        fed.fill(isFed ? 1 : 0, since, k);
        since = -1;
        spokenS = 0;
      }
    } else if (now === -against) {
      since = -1;
      spokenS = 0;
    }
    fed[k] = isFed ? 1 : 0;
  }
  return fed;
}

/** Least current that flows in for sure, whatever the sensor's zero, A. */
export const leastInA = ({ log }: Session) =>
  Math.max(INTO_A, INTO_OFFSETS * (log.columns.current?.accuracy?.absolute ?? 0));

/** Change of a current at rest from reading to reading, A. */
const quietBelowA = (floor: Restlessness) => Math.max(QUIET_A, QUIET_FLOORS * floor.amps);

function levelsOf({ battery, vehicle }: Session): typeof LEAD_V {
  const scale = perTwelveVolt(vehicle.systemV);
  const { high, low, rest } = battery.chemistry === 'lfp' ? LFP_V : LEAD_V;
  return { high: high * scale, low: low * scale, rest: rest * scale };
}

/** +1 fed, −1 not fed, 0 could be either: keeps what it was. `unfed`: the last tile in which nothing fed, −1 for none. */
function signOf(
  tiles: Tiles,
  session: Session,
  floor: Restlessness,
  zeroA: number,
  alone: AloneLevels,
): (k: number, unfed: number) => -1 | 0 | 1 {
  const scale = perTwelveVolt(session.vehicle.systemV);
  const lfp = session.battery.chemistry === 'lfp';
  const { high, low } = levelsOf(session);
  const intoA = leastInA(session);
  const offsetA = session.log.columns.current?.accuracy?.absolute ?? NOTHING_A;
  // A battery just off charge keeps a high voltage for a while; that nothing feeds it shows in a current at rest.
  const quietA = quietBelowA(floor);
  // Off charge with nothing drawn, the voltage sinks; what feeds holds it.
  const changeIn = (withinS: number) => {
    let before = 0;
    return (k: number) => {
      if (before > k) before = 0;
      while (before + 1 < k && tiles.t1[before + 1] <= tiles.t0[k] - withinS) before++;
      const agoS = tiles.t0[k] - tiles.t1[before];
      return agoS >= 0 && agoS < withinS + HOLE_S ? { agoS, byV: (tiles.v[k] - tiles.v[before]) / scale } : null;
    };
  };
  const fallsBy = (volts: number, withinS: number) => {
    const change = changeIn(withinS);
    return (k: number) => (change(k)?.byV ?? 0) <= -volts;
  };
  const sinks = fallsBy(SINKS_V, SINKS_S);
  const sags = fallsBy(SAGS_V, SAGS_S);
  const changeHeld = changeIn(HOLDS_S);
  const holds = (k: number) => {
    const change = changeHeld(k);
    return change !== null && change.agoS >= HOLDS_S && Math.abs(change.byV) < HOLDS_V;
  };
  const hasRisen = (k: number, unfed: number) => {
    if (unfed < 0) return true;
    const risesA = tiles.i[k] - tiles.i[unfed];
    const liftedV = tiles.v[k] - tiles.v[unfed] - BEGINS_OHM * scale * Math.max(0, risesA);
    return liftedV >= BEGINS_V * scale || (risesA >= BEGINS_A && tiles.i[k] - zeroA > 0);
  };
  return (k, unfed) => {
    const v = tiles.v[k];
    const i = tiles.i[k] - zeroA;
    // Where nothing is known, nothing is claimed.
    if (Number.isNaN(i)) return v >= alone.fedV ? 1 : v >= alone.openV ? 0 : -1;
    // A steady draw out of a battery that keeps its voltage high by itself; at rest only one of lfp does so for long.
    if (i <= (lfp ? -RESTING_LFP_A : -intoA) && tiles.iRough[k] < quietA) return -1;
    const isStill = Math.abs(i) < NOTHING_A && tiles.iRough[k] < quietA;
    if (isStill && (sinks(k) || (i <= 0 && v < high + SURFACE_V * scale && sags(k)))) return -1;
    if (
      (i >= intoA && v >= LEAST_FED_V * scale) ||
      (v >= high && i > -intoA && (hasRisen(k, unfed) || (!lfp && i > offsetA && holds(k))))
    )
      return 1;
    if ((i <= -DRAWN_A && v < high) || (i < intoA && v < low)) return -1;
    if (i < NOTHING_A && v < high && tiles.iRough[k] < quietA) return -1;
    return 0;
  };
}

/** What the sensor reads of nothing, A: a small and quiet current that flowed in for longer than a drive is lowered and filled nothing. */
function zeroOf(tiles: Tiles, session: Session, floor: Restlessness, fed: Uint8Array): number {
  const scale = perTwelveVolt(session.vehicle.systemV);
  const { rest: restV } = levelsOf(session);
  const usual = (column: Float64Array, { first, last }: TileSpan) => median(column.subarray(first, last + 1));
  const still = spansOf(fed).filter(
    (span) =>
      tiles.t1[span.last] - tiles.t0[span.first] > LOWERED_S &&
      usual(tiles.i, span) < TRICKLE_A &&
      usual(tiles.v, span) < restV &&
      tiles.v[span.last] < tiles.v[span.first] + RISE_V * scale &&
      !(restlessness(tiles, span).amps > quietBelowA(floor)),
  );
  return still.length > 0 ? median(still.map((span) => usual(tiles.i, span))) : 0;
}

function spansOf(fed: Uint8Array): TileSpan[] {
  const spans: TileSpan[] = [];
  for (let k = 0; k < fed.length; k++) {
    if (!fed[k]) continue;
    const first = k;
    while (k + 1 < fed.length && fed[k + 1]) k++;
    spans.push({ first, last: k });
  }
  return spans;
}
