/**
 * How well a segment goes with each state: a penalty in natural-log units, 0 for no objection. Weights are common
 * practice, no source: they say how often, in the trade's experience, a state looks like that, not more than roughly.
 */
import { there } from '../../base/there.ts';
import { median } from '../../battery/statistics.ts';
import { RESTLESS_A, type Restlessness } from './restless.ts';
import type { Segment } from './segments.ts';
import type { State } from './state.ts';

export interface Levels {
  /** What the sensors' own noise makes of the quietest tenth of the log. */
  readonly floor: Restlessness;
  /** How restless this vehicle's current is while it runs and charges, A; NaN where the log shows no start. */
  readonly runningA: number;
  /** At which voltage, V; NaN where the log shows no start. */
  readonly runningV: number;
  /** How restless a feeding is here that only a running vehicle's consumers make so; NaN where there is none. */
  readonly restless: Restlessness;
  /** How restless it is in those feedings that are as steady as the sensor can tell, A; NaN where there are too few. */
  readonly calmFedA: number;
  /** How restless the draw is while this vehicle's regulator lets go, A; NaN where it is not seen to. */
  readonly lettingGoA: number;
  /** And while its engine runs and has charged nothing since its start, A; NaN where none does. */
  readonly unchargedA: number;
  /** Less is drawn by no vehicle that was just left, and by this one asleep, A. */
  readonly quietA: number;
  /** More is drawn by a vehicle that is still shutting down, A. */
  readonly goneA: number;
  /** It has no modules that draw on after key-off: nothing did after those drives that a crank proves; null where none does. */
  readonly leavesQuiet: boolean | null;
  /**
   * Longest pause of charging that comes back without a start, s: a regulator that lets the voltage down on purpose. 0
   * where the log shows none.
   */
  readonly pausesS: number;
  readonly isCombustion: boolean;
  readonly hasCurrent: boolean;
  /** The log is quick enough, at cranks at least, for none to be missed. */
  readonly showsStarts: boolean;
}

/** Learnt from what follows the cranks: there the engine runs, whatever else may be in doubt. */
export function learnLevels(
  segments: readonly Segment[],
  known: Pick<Levels, 'floor' | 'isCombustion' | 'hasCurrent' | 'showsStarts'>,
): Levels {
  const running = runningSegments(segments);
  const leftA = running.flatMap((k) => {
    const left = segments.slice(k + 1).find((next) => !next.isFed);
    return left !== undefined && left.lost === null && left.crank < 0 ? [left.drawA] : [];
  });
  const aboveAsleepA = ABOVE_ASLEEP * sleepingLevel(segments);
  return {
    ...known,
    runningA: median(running.map((k) => there(segments[k]).roughA)),
    runningV: median(running.map((k) => there(segments[k]).volts)),
    restless: restlessOf(segments),
    calmFedA: calmFedA(segments, known.floor),
    lettingGoA: median(
      segments.flatMap(({ isFed, isByTurns, crank, roughA }) => (isByTurns && !isFed && crank < 0 ? [roughA] : [])),
    ),
    unchargedA: unchargedA(segments),
    quietA: Math.max(QUIET_A, aboveAsleepA),
    goneA: aboveAsleepA > 0 ? Math.max(GONE_A, aboveAsleepA) : QUIET_A,
    leavesQuiet: leftA.length > 0 ? median(leftA) < QUIET_A : null,
    // A converter does not pause.
    pausesS: known.isCombustion ? longestPauseS(segments) : 0,
  };
}

/**
 * Of each start the first feeding that lasts, or else the longest: while a battery fills up after it the regulator is still on its way, and
 * later something else may feed.
 */
function runningSegments(segments: readonly Segment[]): number[] {
  const running: number[] = [];
  let longest = -1;
  segments.forEach(({ isFed, crank, seconds, isSinceStart, isOnSinceStart }, k) => {
    const isRunning = isSinceStart || isOnSinceStart;
    if (longest >= 0 && (crank >= 0 || !isRunning)) {
      running.push(longest);
      longest = -1;
    }
    const before = segments[longest]?.seconds ?? LEARN_S;
    if (isFed && isRunning && before < LEARN_LONG_S && seconds > before) longest = k;
  });
  return longest < 0 ? running : [...running, longest];
}

function unchargedA(segments: readonly Segment[]): number {
  let isUnfed = false;
  const roughs = segments.flatMap(({ isFed, crank, isOnSinceStart, seconds, roughA }) => {
    isUnfed = crank >= 0 || (isUnfed && !isFed && isOnSinceStart);
    return isUnfed && crank < 0 && seconds > LEARN_LONG_S ? [roughA] : [];
  });
  return median(roughs);
}

function restlessOf(segments: readonly Segment[]): Restlessness {
  const alive = segments.filter(
    ({ isFed, seconds, rows, roughA }) => isFed && seconds > LEARN_S && rows >= LEARN_ROWS && roughA > RESTLESS_A,
  );
  return { amps: median(alive.map(({ roughA }) => roughA)), volts: median(alive.map(({ roughV }) => roughV)) };
}

/** Feedings whose current changes by no more than this and four times the sensor's own noise, A, are calm; so many of them show what is usual. */
const CALM_FED_A = 0.02;
const LEAST_CALM = 2;

function calmFedA(segments: readonly Segment[], floor: Restlessness): number {
  const mostA = Math.max(CALM_FED_A, 4 * floor.amps);
  const calm = segments.filter(({ isFed, seconds, roughA }) => isFed && seconds > LEARN_LONG_S && roughA < mostA);
  return calm.length >= LEAST_CALM
    ? Math.max(median(calm.map(({ roughA }) => roughA)), floor.amps, LEAST_CALM_A)
    : Number.NaN;
}

/**
 * A pause this short between two stretches that charge, without a start, in which amperes are drawn all along or the draw is
 * restless for most of it, is the regulator's, s.
 */
const PAUSES_S = 1200;

function longestPauseS(segments: readonly Segment[]): number {
  let longestS = 0;
  /** Null where none is under way. */
  let pauseS: number | null = null;
  let drawingS = 0;
  let restlessS = 0;
  for (const { isFed, crank, lost, holeS, drawA, roughA, seconds } of segments) {
    if (isFed) {
      const isRegulators = pauseS !== null && (drawingS >= pauseS || restlessS > pauseS / 2);
      if (pauseS !== null && pauseS < PAUSES_S && isRegulators) longestS = Math.max(longestS, pauseS);
      pauseS = drawingS = restlessS = 0;
    } else if (crank >= 0 || lost !== null || holeS > 0) pauseS = null;
    else if (pauseS !== null) {
      pauseS += seconds;
      if (drawA >= KEY_ON_A) drawingS += seconds;
      if (roughA > RESTLESS_A) restlessS += seconds;
    }
  }
  return longestS;
}

/** A level kept for so long, s, is one of sleep unless it is more than this, A; and what is quiet lies no further above it. */
const ASLEEP_S = 7200;
const MOST_ASLEEP_A = 1.5;
const ABOVE_ASLEEP = 1.25;
/** A module that is awake draws more, A. */
const GONE_A = 0.05;

/** A; 0 where none is kept for long. */
export function sleepingLevel(segments: readonly Segment[]): number {
  let longestS = ASLEEP_S;
  let levelA = 0;
  for (const { isFed, lost, seconds, drawA } of segments) {
    if (isFed || lost !== null || seconds < longestS || !(drawA < MOST_ASLEEP_A)) continue;
    longestS = seconds;
    levelA = drawA;
  }
  return levelA;
}

/** Draw that only an opened, switched-on vehicle shows, and that none shows once it is left, A. */
export const KEY_ON_A = 2;
export const QUIET_A = 0.3;
/** A draw that nobody leaves on for long with the engine off, A, unless it stands as still as a fan or a relay that sticks. */
const RUNNING_A = 20;
/** The key stays on without the engine for minutes, not hours, s. */
const KEY_ON_S = 600;

/** What a start looks like lasts so long, s: rows further apart may miss it. */
const PAUSE_SEEN_S = 10;

/** Readings this close together differ by what switches, s. */
const SOON_S = 60;
/** What lasts for longer, s, is a top-up, or shows how an engine runs; a sensor's last digit is no restlessness, A. */
const LEARN_LONG_S = 300;
const LEAST_CALM_A = 0.002;
/** A drive this long shows how restless it is, s, in so many rows: in one the change before it is all there is. */
const LEARN_S = 30;
const LEARN_ROWS = 6;

/** Nobody drives for half a day without a stop, or seldom. */
const DAY_LONG = 3;
const HALF_DAY_S = 43_200;

/** One minute of a kind tells nearly as much as two: an hour tells more, but not sixty times more. */
const weight = (seconds: number, halfS: number) => (seconds / (seconds + halfS)) * (1 + Math.log10(1 + seconds / 600));
const saturating = (seconds: number, halfS: number) => seconds / (seconds + halfS);

/** −1 (as steady as the sensor can tell) to 1 (as restless as a running engine's consumers); 0 where it cannot be told. */
export function restOf(segment: Segment, { floor }: Levels): number {
  const { roughA, roughV, isFed } = segment;
  const byVolts = restFrom(segment, roughV / Math.max(0.004, 4 * floor.volts));
  if (Number.isNaN(roughA)) return byVolts;
  const byAmps = restFrom(segment, roughA / Math.max(0.02, Math.min(RESTLESS_A, 4 * floor.amps)));
  // A generator's voltage is never as still as a charger's; with nothing that feeds, the battery holds it.
  const rest = isFed ? (byAmps + byVolts) / 2 : byAmps;
  return segment.isSwitched || segment.feedsConsumers ? Math.max(0, rest) : rest;
}

function restFrom(segment: Segment, ratio: number): number {
  if (Number.isNaN(ratio)) return 0;
  return ratio > 0 ? tells(segment) * Math.max(-1, Math.min(1, Math.log2(ratio) / 2)) : -1;
}

/** An engine that pauses at lights is started again within this time, s. */
export const LIGHTS_S = 90;

/** How surely rows this far apart show what lasts so long, 0 to 1. */
export const seenIn = (stepS: number, lastsS: number) => lastsS / (lastsS + stepS);

/** How much differences between readings tell: rows minutes apart differ also by what drifts, a single one by what changed before it. */
const tells = (segment: Segment) => seenIn(segment.stepS, SOON_S) * (1 - 1 / Math.max(1, segment.rows));

export function penaltyOf(state: State, segment: Segment, levels: Levels): number {
  if (segment.lost !== null) return 0;
  if (segment.crank >= 0)
    return Math.max(0, state === 'driving' ? -segment.started : segment.started) + (state === 'unknown' ? 3 : 0);
  const other = segment.isByTurns && levels.isCombustion && state !== 'driving' ? BY_TURNS_OTHER : 0;
  const own = other * saturating(segment.seconds, BY_TURNS_S);
  if (state === 'unknown') return own + unknownPenalty(segment, levels);
  if (state === 'driving' && segment.isByTurns && levels.isCombustion) return (DAY_LONG * segment.seconds) / HALF_DAY_S;
  const long = state === 'driving' ? (DAY_LONG * segment.seconds) / HALF_DAY_S : 0;
  return own + long + (segment.isFed ? fedPenalty(state, segment, levels) : unfedPenalty(state, segment, levels));
}

/** What current in and out by turns, much of it, says against all but a running engine, and the time it takes, s. */
const BY_TURNS_OTHER = 2;
const BY_TURNS_S = 30;

/** What no other state explains; and, without current, what raised the voltage. */
function unknownPenalty({ seconds, isFed }: Segment, { hasCurrent, showsStarts }: Levels): number {
  return isFed && !hasCurrent && !showsStarts ? saturating(seconds, 30) : 2.5 * weight(seconds, 30);
}

function fedPenalty(state: State, segment: Segment, levels: Levels): number {
  const { seconds, drawA } = segment;
  const rest = restOf(segment, levels);
  switch (state) {
    case 'parked':
    case 'key-on':
      return 8 * weight(seconds, 30);
    case 'driving':
      // A voltage that stands still, of a coarse logger, tells nothing.
      if (Number.isNaN(drawA) || segment.isSinceStart) return 0;
      return (
        steadily(Math.max(0, -rest), seconds) * (levels.isCombustion ? 2.5 : 1.5) +
        2.5 * calmFeeding(segment, levels) +
        (levels.isCombustion ? 0 : pluggedIn(segment))
      );
    case 'top-up':
      if (levels.isCombustion) return 50;
      return Math.max(0, rest) * 2.5 * saturating(seconds, 20) + unlikeTopUps(segment, levels);
    case 'on-charger':
      // On a hybrid or electric vehicle no log tells a shop's charger from the vehicle's own converter.
      if (!levels.isCombustion) return 50;
      // Voltage alone does not tell what raised it, but for the start that is not there in a log that shows them all.
      if (Number.isNaN(drawA)) return levels.showsStarts ? 1 + Math.max(0, rest) : 6;
      return (
        Math.max(0, rest) * 2.5 * saturating(seconds, 20) +
        LIKE_RUNNING * (segment.isSinceStart ? saturating(seconds, 20) : likeRunning(segment, levels))
      );
    default:
      return 0;
  }
}

/** So many times as restless as this vehicle's calm feedings, it is of another kind, and what that says, over some time, s. */
const OTHER_KIND = 8;
const OTHER_KIND_SAYS = 1.5;
const OTHER_KIND_S = 60;
const unlikeTopUps = ({ roughA, seconds }: Segment, { calmFedA }: Levels) =>
  roughA > OTHER_KIND * calmFedA ? OTHER_KIND_SAYS * saturating(seconds, OTHER_KIND_S) : 0;

/** Hours of feeding in which no consumer is switched are those of a vehicle that stands and is plugged in. */
const PLUGGED_IN = 1.5;
const PLUGGED_IN_S = 3600;
const pluggedIn = ({ feedsConsumers, isSwitched, seconds }: Segment) =>
  feedsConsumers || isSwitched ? 0 : PLUGGED_IN * saturating(seconds, PLUGGED_IN_S);

/** What is as steady as the sensor can tell says the more the longer it lasts. */
const steadily = (calm: number, seconds: number) =>
  calm * saturating(seconds, 20) + calm ** 4 * (weight(seconds, 20) - saturating(seconds, 20));

/** A feeding is calm that keeps below half of what this vehicle's drives show, in current and voltage; most that it says, and time it takes. */
const CALM_MOST = 2;
const CALM_S = 300;

/** The vehicle is known restless while it runs, and here nothing is from begin to end. */
function calmFeeding({ feeding, seconds }: Segment, { restless, floor, isCombustion }: Levels): number {
  if (!isCombustion) return 0;
  const below = (running: number, own: number, noise: number) => Math.log2(running / Math.max(own, noise)) - 1;
  const calmer = Math.min(
    below(restless.amps, feeding.amps, floor.amps),
    below(restless.volts, feeding.volts, floor.volts),
  );
  return calmer > 0 ? Math.min(CALM_MOST, calmer) * saturating(seconds, CALM_S) : 0;
}

/** What speaks against a charger since a start, or one whose current is just as restless as this vehicle's while it runs, at the same voltage. */
const LIKE_RUNNING = 3;
const LIKE_V = 0.015;
const LIKE_S = 60;

/** 0 to 1; 0 where its own restlessness is not seen beyond the sensor's. */
function likeRunning({ roughA, volts, seconds }: Segment, { runningA, runningV, floor }: Levels): number {
  if (!(runningA > Math.max(0.02, 4 * floor.amps)) || !(Math.abs(volts - runningV) < LIKE_V * runningV)) return 0;
  return Math.exp(-4 * Math.log2(roughA / runningA) ** 2) * saturating(seconds, LIKE_S);
}

function unfedPenalty(state: State, segment: Segment, levels: Levels): number {
  const { seconds, drawA } = segment;
  const rest = restOf(segment, levels);
  switch (state) {
    case 'on-charger':
    case 'top-up':
      return 8 * weight(seconds, 60);
    case 'driving':
      if (Number.isNaN(drawA)) return 9 * Math.max(0.1, -rest) * weight(seconds, 60);
      return (
        smallDraw(drawA, Math.max(lively(segment, levels), pausing(segment, levels))) * weight(seconds, 20) +
        unready(segment, levels) +
        (segment.againS !== null && segment.againS < LIGHTS_S
          ? 0
          : calmed(segment, levels) + (isAsLetGo(segment, levels) ? 0 : 2 * steadily(Math.max(0, -rest), seconds)))
      );
    case 'parked':
      if (Number.isNaN(drawA)) return Math.max(0, rest) * saturating(seconds, 60);
      return (
        (drawA > RUNNING_A ? 3 * (levels.runningA > 0 ? lively(segment, levels) : 1) : 0) *
          saturating(seconds, 300) *
          weight(seconds, 300) +
        (drawA > KEY_ON_A || segment.roughA > RESTLESS_A
          ? lively(segment, levels) * (levels.runningA > 0 ? 2.5 : 1.5) * saturating(seconds, 30)
          : 0) +
        (segment.isOnSinceStart && segment.isSwitched && drawA > KEY_ON_A ? USED_ON * saturating(seconds, 30) : 0)
      );
    case 'key-on':
      return (
        (drawA > 1 ? 0 : 6) * saturating(seconds, 10) +
        (4 * seconds) / (seconds + KEY_ON_S) +
        (levels.runningA > 0 ? LIVELY_KEY_ON * lively(segment, levels) * saturating(seconds, 30) : 0)
      );
    default:
      return 0;
  }
}

/**
 * A converter feeds for as long as its vehicle is ready: what is drawn without it, so evenly that no brake lamp and no steering is in it, is
 * drawn by one that is not. One that fails on the way leaves a draw that goes up and down.
 */
const UNREADY = 8;
const UNREADY_S = 30;
const UNREADY_SHARE = 0.04;
const unready = ({ roughA, seconds }: Segment, { isCombustion, restless }: Levels) =>
  !isCombustion && roughA < UNREADY_SHARE * restless.amps ? UNREADY * saturating(seconds, UNREADY_S) : 0;

/** What consumers switched up and down ever since a start say against a vehicle that was left. */
const USED_ON = 0.3;

/** What readings as lively as those of this vehicle's running engine say against the key alone. */
const LIVELY_KEY_ON = 1.5;

/** Of the draw: consumers of a running engine switch no larger part of it; hazard lights do. */
const SWITCHED = 0.1;
/** Share of the time in which current flows in at the least where a generator follows its consumers; no parked battery is fed by turns. */
const BY_TURNS = 0.15;

/** 0 to 1: restless as it is while the engine charges, not far more so (hazard lights), nor far less; or in and out by turns. */
function lively(segment: Segment, levels: Levels): number {
  const { roughA, drawA, inShare } = segment;
  // Without a starter nothing shows which feeding is a drive's; all that are alive are alike.
  const runningA = levels.isCombustion ? levels.runningA : levels.restless.amps;
  const rest = Math.max(0, restOf(segment, levels));
  if (!(runningA > 0) || !(roughA > 0)) return rest;
  // While a regulator pauses, the battery carries what the generator hides else.
  const isPause = segment.againS !== null && segment.againS <= 2 * levels.pausesS;
  const mostA = Math.max(runningA, isPause ? roughA : SWITCHED * drawA);
  const leastA = lesser(runningA, levels.unchargedA);
  const usualA = Math.min(mostA, Math.max(leastA, roughA));
  const alike = Math.exp(-(Math.max(0, Math.abs(Math.log2(roughA / usualA)) - 0.7) ** 2));
  return rest * Math.max(alike, Math.min(1, inShare / BY_TURNS));
}

// biome-ignore lint/complexity/useMathMinMax: `b` may not be known, and is then no lesser one.
const lesser = (a: number, b: number) => (b < a ? b : a);

/** How surely a little drawn for a while is a pause of charging, where it comes back at once, or within what is usual and no start can be seen. */
const PAUSING = 0.7;

function pausing({ againS, stepS }: Segment, { pausesS, showsStarts }: Levels): number {
  if (againS === null) return 0;
  // An engine that idles may charge nothing for as long as lights are red.
  if (againS < LIGHTS_S) return PAUSING;
  return !showsStarts && againS <= pausesS ? PAUSING * (1 - seenIn(stepS, PAUSE_SEEN_S)) : 0;
}

/** Most that a current far steadier than while this vehicle runs and charges says. */
const CALMED_MOST = 1.5;

/** What injectors, ignition and fans do to the current ends with the key, whoever feeds them. */
function calmed(segment: Segment, { runningA, lettingGoA, unchargedA: aloneA, floor }: Levels): number {
  const usualA = lesser(lesser(runningA, lettingGoA), aloneA);
  const steadierBy = Math.log2(usualA / Math.max(segment.roughA, floor.amps)) - 1;
  return steadierBy > 0 ? Math.min(CALMED_MOST, steadierBy) * saturating(segment.seconds, 20) * tells(segment) : 0;
}

/** As calm as this, the draw is wherever the regulator lets go. */
const isAsLetGo = ({ roughA }: Segment, { lettingGoA }: Levels) => roughA >= lettingGoA / 2;

/** A running engine's consumers ask for amperes; a smart generator may balance them, but not without a ripple. */
function smallDraw(drawA: number, lively: number): number {
  const least = drawA < 0.5 ? 9 : drawA < 1.5 ? 4 : drawA < KEY_ON_A ? 2.5 : 0;
  return least * (1 - lively);
}
