/** What each tile belongs to, before sleep is looked for: the states of the whole reading, with the cranks and key-on edges put in. */

import { perTwelveVolt } from '../../battery/chemistry.ts';
import { median } from '../../battery/statistics.ts';
import type { Session } from '../../manifest/session.ts';
import type { RawCrank } from '../cranks/raw-crank.ts';
import type { PeriodKind } from '../model.ts';
import { joined, type Tiles } from '../tiles/tiles.ts';
import { drawLater, drawNear, drawOfRow } from './beside.ts';
import { dipBefore, leapsAt } from './crank-dip.ts';
import { KEY_ON_A, type Levels, learnLevels, penaltyOf, sleepingLevel } from './evidence.ts';
import { findFeeding, leastInA } from './feeding.ts';
import { lookAhead } from './look-ahead.ts';
import { type Border, beginCost, moveCost } from './moves.ts';
import { type Reading, readStates } from './reading.ts';
import { quietFloor } from './restless.ts';
import { crankTiles, cutSegments, type Segment } from './segments.ts';
import type { State } from './state.ts';
import { findLostSupply } from './supply.ts';

export type Label = Exclude<PeriodKind, 'settling' | 'asleep' | 'awake'> | 'parked' | 'top-up';

/** From the end of the crank until the generator takes over, s: the drive has begun. */
export const TAKEOVER_S = 25;
/** With the key on more may be asked of the seconds before a crank, up to this; common practice, no source, A. */
const KEY_ON_MOST_A = 6;
/** Longest that an engine-off key-on stretch is followed back from a crank, s. */
const KEY_ON_LONGEST_S = 900;
/** Right before a crank the draw may be anything, s. */
const KEY_TURNS_S = 3;
/** Rows further apart than this may hide a whole crank, s. */
const SLOW_S = 0.5;
/** Rows so far apart show none, s: then nothing speaks against a start. */
const COARSE_S = 5;
/** Penalties of a start that was not seen: in a log that shows its cranks, in one that should, and in those too slow. */
const UNSEEN = { shown: 9, quick: 5, slow: 2, coarse: 0.7, withoutStarter: 1.5, withoutCurrent: 6 };

export interface Labels {
  readonly labels: Label[];
  /** Per tile, how sure that is, 0 to 1. */
  readonly certainty: Float64Array;
  readonly segments: readonly Segment[];
  readonly levels: Levels;
}

export function labelTiles(tiles: Tiles, cranks: readonly RawCrank[], session: Session, hasCurrent: boolean): Labels {
  const { powertrain, systemV } = session.vehicle;
  const floor = quietFloor(tiles, session);
  const lost = findLostSupply(tiles, session);
  const lifts = cranks.flatMap(({ lift }) => (lift ? [lift] : []));
  const fed = findFeeding(tiles, session, floor, lifts);
  const segments = lookAhead(
    cutSegments(
      { tiles, fed, lost, crankAt: crankTiles(tiles, cranks), intoA: leastInA(session) },
      perTwelveVolt(systemV),
    ),
    cranks,
    floor,
  );
  // What glow plugs draw for seconds fills rows also where a crank falls between them.
  const isQuick = ({ rows, seconds }: RawCrank) => rows >= 4 && seconds < SLOW_S * rows;
  const showsStarts = cranks.length > 0 && 2 * cranks.filter(isQuick).length > cranks.length;
  const isCombustion = powertrain === 'combustion';
  const learnt = learnLevels(segments, { floor, isCombustion, hasCurrent, showsStarts });
  const borders = segments.map((_, k) => (k > 0 ? borderAt(tiles, segments, k, learnt, session) : null));
  const { readings, levels } = readWith(segments, borders, learnt);
  const admitted = withVoltage(segments, admitUnknown(segments, readings));
  const states = withoutCalmEnds(segments, withoutStartless(segments, admitted, levels, cranks.length), levels);
  const labels: Label[] = new Array(tiles.n).fill('parked');
  const certainty = new Float64Array(tiles.n);
  segments.forEach((segment, k) => {
    labels.fill(labelOf(segment, states[k]), segment.first, segment.last + 1);
    certainty.fill(segment.lost || segment.crank >= 0 ? 1 : readings[k].certainty, segment.first, segment.last + 1);
  });
  for (let k = 1; k < tiles.n; k++) {
    if (labels[k] === labels[k - 1] || (labels[k] !== 'cranking' && labels[k] !== 'driving')) continue;
    labelKeyOn(tiles, labels, k - 1);
  }
  return { labels, certainty, segments, levels };
}

/**
 * Few vehicles have no modules that draw on after key-off, but of those that draw no more than this asleep, A, many: a clock and little else.
 * Asked of the vehicle, once, not of each of its drives.
 */
const LEAVES_QUIET = { few: 3, bare: 1 };
const BARE_A = 0.01;

/** What goes before each segment; null before the first. */
type Borders = readonly (Border | null)[];

function readWith(
  segments: readonly Segment[],
  borders: Borders,
  learnt: Levels,
): { readings: readonly Reading[]; levels: Levels } {
  const readAs = (levels: Levels, own: Borders) =>
    readStates(
      segments.length,
      (k, state) => penaltyOf(state, segments[k], levels),
      (k, from, to) => moveCost(from, to, own[k] as Border),
      (state) => beginCost(state, levels),
    );
  const usual = readAs(learnt, borders);
  const mayLeaveQuiet =
    learnt.isCombustion &&
    learnt.leavesQuiet === null &&
    segments.some(({ isFed, drawA, lost, crank }, k) => {
      return segments[k - 1]?.isFed && !isFed && lost === null && crank < 0 && drawA < learnt.quietA;
    });
  if (!mayLeaveQuiet) return { readings: usual.readings, levels: learnt };
  const levels = { ...learnt, leavesQuiet: true };
  const quiet = readAs(
    levels,
    borders.map((border) => border && { ...border, levels }),
  );
  const asleepA = sleepingLevel(segments);
  const isBare = asleepA !== 0 && asleepA <= BARE_A;
  return quiet.cost + (isBare ? LEAVES_QUIET.bare : LEAVES_QUIET.few) < usual.cost
    ? { readings: quiet.readings, levels }
    : { readings: usual.readings, levels: learnt };
}

/** What feeds is not known where nothing tells a drive from a charger by more than this; a start tells. */
const LEAST_CERTAINTY = 0.6;
const BRIEF_S = 5;

function admitUnknown(segments: readonly Segment[], readings: readonly Reading[]): State[] {
  const states = readings.map(({ state }) => state);
  for (let first = 0; first < states.length; first++) {
    const state = states[first];
    let last = first;
    while (last + 1 < states.length && states[last + 1] === state) last++;
    if (state !== 'parked' && state !== 'key-on') {
      let seconds = 0;
      let sure = 0;
      let isStarted = false;
      for (let k = first; k <= last; k++) {
        seconds += segments[k].seconds;
        sure += segments[k].seconds * readings[k].certainty;
        if (segments[k].crank >= 0) isStarted = true;
      }
      // What lasts but a moment belongs to what follows.
      const other = seconds < BRIEF_S && last + 1 < states.length ? states[last + 1] : 'unknown';
      if (sure < LEAST_CERTAINTY * seconds && !isStarted) states.fill(other, first, last + 1);
    }
    first = last;
  }
  return states;
}

/** What goes on without a single reading of voltage is not known, but for standing: current alone does not tell what feeds. */
function withVoltage(segments: readonly Segment[], states: readonly State[]): State[] {
  const seen = states.map((state, k) => state === 'parked' || !Number.isNaN(segments[k].volts));
  // Known of one part, it is known of all.
  for (let k = 1; k < states.length; k++) if (seen[k - 1] && states[k] === states[k - 1]) seen[k] = true;
  for (let k = states.length - 2; k >= 0; k--) if (seen[k + 1] && states[k] === states[k + 1]) seen[k] = true;
  return states.map((state, k) => (seen[k] ? state : 'unknown'));
}

/**
 * Nobody starts unseen and drives for longer, s, or with so little flowing in, A, in a log that shows starts, so many at the least: sun
 * that comes and goes looks like it.
 */
const STARTLESS_S = 3 * 3600;
const STARTLESS_A = 1;
const LEAST_STARTS = 2;

function withoutStartless(segments: readonly Segment[], states: State[], levels: Levels, starts: number): State[] {
  if (!levels.isCombustion || !levels.hasCurrent || !levels.showsStarts || starts < LEAST_STARTS) return states;
  for (let first = 0; first < states.length; first++) {
    if (states[first] !== 'driving') continue;
    let last = first;
    // Up to where a start is seen, or anything may have happened.
    const ends = (k: number) => states[k] !== 'driving' || segments[k].crank >= 0 || segments[k].holeS > 0;
    while (last + 1 < states.length && !ends(last + 1)) last++;
    const run = segments.slice(first, last + 1);
    const seconds = run.reduce((sum, segment) => sum + segment.seconds, 0);
    const [{ crank, holeS }] = run;
    const isStarted = first === 0 || crank >= 0 || holeS > 0 || run.some(({ isByTurns }) => isByTurns);
    const isTrickle = median(run.filter(({ isFed }) => isFed).map(({ drawA }) => drawA)) > -STARTLESS_A;
    if (!isStarted && (seconds > STARTLESS_S || isTrickle))
      for (let k = first; k <= last; k++) states[k] = segments[k].isFed ? 'unknown' : 'parked';
    first = last;
  }
  return states;
}

/**
 * What goes on for longer than this, s, so many times as calm as the engine ran since its start, is another source that took over, in a log
 * where such a source feeds without any start too: whoever waits with the engine running elsewhere keeps his drive.
 */
const CALM_END_S = 1800;
const CALMER = 4;
/** An engine shows how it runs within this; what is shorter than the other is no more than a step from one level to the next, s. */
const RUNS_S = 300;
const STEP_S = 15;

function withoutCalmEnds(segments: readonly Segment[], states: State[], { isCombustion, floor }: Levels): State[] {
  const isOther = ({ isFed, seconds }: Segment, k: number) =>
    isFed && seconds > CALM_END_S && (states[k] === 'on-charger' || states[k] === 'unknown');
  const otherA = median(segments.filter(isOther).map(({ roughA }) => roughA));
  if (!isCombustion || !(otherA >= 0)) return states;
  for (let first = 0; first < states.length; first++) {
    if (states[first] !== 'driving' || !(segments[first - 1]?.crank >= 0)) continue;
    let last = first;
    while (states[last + 1] === 'driving' && segments[last + 1].crank < 0 && segments[last + 1].holeS === 0) last++;
    const ranAt = segments.slice(first, last + 1).find(({ isFed, seconds }) => isFed && seconds > RUNS_S);
    const mostA = Math.max(floor.amps, (ranAt?.roughA ?? Number.NaN) / CALMER);
    let from = last + 1;
    let seconds = 0;
    // A moment is a step from one to the next.
    while (from > first && (segments[from - 1].roughA < mostA || segments[from - 1].seconds < STEP_S))
      seconds += segments[--from].seconds;
    if (otherA < mostA && seconds > CALM_END_S)
      for (let k = from; k <= last; k++) states[k] = segments[k].isFed ? 'unknown' : 'parked';
    first = last;
  }
  return states;
}

const labelOf = (segment: Segment, state: State): Label => segment.lost ?? (segment.crank >= 0 ? 'cranking' : state);

function borderAt(tiles: Tiles, segments: readonly Segment[], k: number, levels: Levels, session: Session): Border {
  const [before, after] = [segments[k - 1], segments[k]];
  let near = k - 1;
  while (near > 0 && segments[near].crank < 0 && tiles.t0[after.first] - tiles.t1[segments[near].last] < TAKEOVER_S)
    near--;
  const isStart =
    after.crank >= 0 ||
    (segments[near].crank >= 0 && tiles.t0[after.first] - tiles.t1[segments[near].last] < TAKEOVER_S);
  const isDip =
    !isStart &&
    after.isFed &&
    session.vehicle.powertrain !== 'electric' &&
    (dipBefore(tiles, tiles.t0[after.first], session.vehicle.systemV) !== null ||
      (!levels.hasCurrent && !before.isFed && leapsAt(tiles, tiles.t0[after.first], session.vehicle.systemV)));
  return {
    before,
    after,
    isStart,
    isDip,
    drawBeforeA: most(drawNear(tiles, before.last, -1), drawOfRow(tiles, after.first)),
    drawAfterA: most(drawNear(tiles, after.first, 1), drawOfRow(tiles, after.first)),
    drawLaterA: drawLater(tiles, after.first),
    unseenStart: unseenStart(tiles, segments, k, levels),
    levels,
  };
}

const most = (a: number, b: number) => (b > a || Number.isNaN(a) ? b : a);

function unseenStart(tiles: Tiles, segments: readonly Segment[], k: number, levels: Levels): number {
  const blindly = levels.hasCurrent ? 0 : UNSEEN.withoutCurrent;
  if (!levels.isCombustion) return UNSEEN.withoutStarter + blindly;
  const [before, after] = [segments[k - 1], segments[k]];
  // A voltage that stands still shows no crank.
  if (after.holeS > 0 || before.lost || !(after.roughV > 0)) return UNSEEN.slow + blindly;
  if (levels.showsStarts) return UNSEEN.shown;
  const stepS = (tiles.t1[before.last] - tiles.t0[before.last]) / tiles.rows[before.last];
  return blindly + (stepS < SLOW_S ? UNSEEN.quick : stepS < COARSE_S ? UNSEEN.slow : UNSEEN.coarse);
}

/** From tile `last` back while the draw stays like that of an opened, switched-on vehicle. */
function labelKeyOn(tiles: Tiles, labels: Label[], last: number): void {
  if (last < 0 || labels[last] !== 'parked') return;
  const end = tiles.t1[last];
  const isRightBefore = (k: number) => end - tiles.t1[k] < KEY_TURNS_S;
  let mostA = 0;
  for (let k = last; k >= 0 && isRightBefore(k); k--) if (-tiles.i[k] > mostA) mostA = -tiles.i[k];
  if (mostA < KEY_ON_A) return;
  // Half of what glow plugs draw on top would be too much to ask of the seconds before them.
  const leastA = Math.max(KEY_ON_A, Math.min(KEY_ON_MOST_A, 0.5 * mostA));
  for (let k = last; k >= 0 && labels[k] === 'parked' && end - tiles.t1[k] < KEY_ON_LONGEST_S; k--) {
    if (!isRightBefore(k) && !(-tiles.i[k] >= leastA)) break;
    labels[k] = 'key-on';
    if (!joined(tiles, k)) break;
  }
}
