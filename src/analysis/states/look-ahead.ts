/**
 * What follows a segment tells what it was: whether a crank started the engine, how long until something feeds again, and whether
 * consumers are switched all around it. Amperes are for 12 V and common practice, no source.
 */
import type { RawCrank } from '../cranks/raw-crank.ts';
import type { Restlessness } from './restless.ts';
import type { BareSegment, Segment } from './segments.ts';

/** A voltage that rises beyond what it was shows a start; another crank within a minute, that there was none. */
const STARTED = 4;
/**
 * A start that is neither repeated nor followed by charging, and after which amperes are drawn for minutes: an engine that runs
 * and charges nothing. Who gives up leaves the key on for less, or with less. Common practice, no source.
 */
const RUNS_ON = 5;
const RUNS_ON_A = 4;
const RUNS_ON_S = 300;
/** What injectors and ignition make of it, from reading to reading, A. */
const RUNS_ROUGH_A = 0.04;
/** So much more than with the key on, and at the least, A: pumps, injectors, ignition and fans. */
const MORE = 1.25;
const MORE_LEAST_A = 10;
/** A generator that nearly carries all leaves little to the battery, but so much livelier than the key alone did; hazard lights switch more of it. */
const LIVELIER = 5;
const LIVELY_MOST = 0.1;
/** With the key on glow plugs alone draw so much, A. */
const GLOWS_A = 20;
/** Who leaves a vehicle leaves less, A. */
const LEAST_A = 1;
/** A generator that waits, s, until glow plugs and a cold engine let it, feeds after a draw that never ended: who fetches a charger takes longer. */
const FED_LATE = 3;
const FED_LATE_S = 90;
const RETRIED = -2.5;
const RETRY_S = 60;

/** A generator takes over within this, s. */
const TAKES_OVER_S = 25;

/** Weighs each crank by what follows it, and says of each segment how long until something does. */
export function lookAhead(
  segments: readonly BareSegment[],
  cranks: readonly RawCrank[],
  floor: Restlessness,
): Segment[] {
  const again = fedAgainS(segments);
  const feeding = feedings(segments);
  const byTurns = turns(segments);
  turnsSinceStart(segments, cranks, byTurns);
  /** Time since a start after which the battery has been fed, but for the moments that a generator takes; null without one. */
  let unfedS: number | null = null;
  /** A start, and consumers that have asked for amperes ever since. */
  let isOn = false;
  return segments.map((segment, k) => {
    const { isFed, holeS, lost, crank } = segment;
    if (holeS > 0 || lost !== null || !(isFed || segment.drawA >= LEAST_A)) isOn = false;
    if (crank >= 0) unfedS = isStarted(cranks[crank]) ? 0 : null;
    else if (holeS > 0 || lost !== null) unfedS = null;
    else if (unfedS !== null && !isFed)
      unfedS = unfedS + segment.seconds > TAKES_OVER_S ? null : unfedS + segment.seconds;
    const isSinceStart = isFed && crank < 0 && unfedS !== null;
    const ahead = {
      againS: again[k],
      isSinceStart,
      isOnSinceStart: isOn && crank < 0,
      isSwitched: isSwitched(segments, k),
      isByTurns: byTurns[k],
      ...feeding[k],
    };
    if (crank < 0) return { ...segment, ...ahead, started: 0 };
    const { at, seconds } = cranks[segment.crank];
    const next = cranks[segment.crank + 1]?.at;
    let fedBetween = false;
    for (let j = k + 1; j < segments.length && segments[j].crank <= segment.crank; j++)
      if (segments[j].isFed) fedBetween = true;
    const isRetried = next !== undefined && next - at - seconds < RETRY_S && !fedBetween;
    const runsOn = runsOnS(segments, k, floor) >= RUNS_ON_S;
    const isFedLate = fedAfterS(segments, k) < FED_LATE_S;
    const lateOrNone = runsOn ? RUNS_ON : isFedLate ? FED_LATE : 0;
    const started = isRetried ? RETRIED : isStarted(cranks[segment.crank]) ? STARTED : lateOrNone;
    isOn = started > 0;
    return { ...segment, ...ahead, started };
  });
}

/** Time from crank `k` until something feeds, with amperes drawn until then, s; infinite where that is not so before the next crank. */
function fedAfterS(segments: readonly BareSegment[], k: number): number {
  let afterS = 0;
  for (let j = k + 1; j < segments.length; j++) {
    const { isFed, crank, holeS, lost, drawA, seconds } = segments[j];
    if (crank >= 0 || holeS > 0 || lost !== null) break;
    if (isFed) return afterS;
    if (!(drawA >= LEAST_A)) break;
    afterS += seconds;
  }
  return Number.POSITIVE_INFINITY;
}

/** Something feeds after it, or has lifted the voltage. */
const isStarted = ({ recovered, lift }: RawCrank) => recovered || lift !== undefined;

/** What is switched on and off all the time: so many steps, of so much, A and as a part, so near, s; and how many of them up. */
const STEPS = 3;
const STEPS_UP = 2;
const STEP_A = { fed: 5, drawn: 2 };
const STEP_SHARE = 0.15;
const STEPS_S = 300;

/** Draw (or what flows in, from a source at its limit) goes up and down in steps around segment `k`, as only a vehicle in use makes it. */
function isSwitched(segments: readonly BareSegment[], k: number): boolean {
  const { isFed } = segments[k];
  let steps = 0;
  let up = 0;
  for (const way of [-1, 1]) {
    let awayS = segments[k].seconds / 2;
    for (let j = k; awayS < STEPS_S && segments[j + way]?.isFed === isFed; j += way) {
      const next = segments[j + way];
      if (next.crank >= 0 || segments[j].crank >= 0) break;
      if (isStep(segments[j], next)) {
        steps++;
        if (way * (next.drawA - segments[j].drawA) > 0) up++;
      }
      awayS += next.seconds;
    }
  }
  return steps >= STEPS && up >= STEPS_UP;
}

const isStep = (a: BareSegment, b: BareSegment) =>
  Math.abs(b.drawA - a.drawA) > Math.max(a.isFed ? STEP_A.fed : STEP_A.drawn, STEP_SHARE * Math.abs(a.drawA));

/** In and out at the least, A; a turn goes from one of the former to the next, s; and so many of them, one after the other, are no chance. */
const BURST_A = 15;
const OUT_A = 5;
const TURN_S = 900;
const LEAST_TURNS = 3;
/** What flows in so soon after such turns belongs to them, s, however little, A. */
const AFTER_S = 300;
const AFTER_A = 0.3;

/** Of each segment, whether it lies within such turns, without a crank or a hole in them. */
function turns(segments: readonly BareSegment[]): boolean[] {
  const within: boolean[] = new Array(segments.length).fill(false);
  /** The first burst of a chain, the last one so far, and how many turns lie between; −1 for none. */
  let chain = { first: -1, last: -1, turns: 0 };
  let isOut = false;
  let sinceS = 0;
  const end = () => {
    if (chain.turns >= LEAST_TURNS) within.fill(true, chain.first, chain.last + 1);
    chain = { first: -1, last: -1, turns: 0 };
    isOut = false;
  };
  segments.forEach(({ isFed, crank, lost, holeS, drawA, seconds }, k) => {
    if (crank >= 0 || lost !== null || holeS > 0 || (chain.last >= 0 && sinceS > TURN_S)) end();
    if (isFed && drawA <= -BURST_A) {
      if (chain.last < 0) chain.first = k;
      chain = { ...chain, last: k, turns: chain.turns + Number(isOut) };
      isOut = false;
      sinceS = 0;
    } else if (isFed && drawA <= -AFTER_A && chain.turns >= LEAST_TURNS && sinceS <= AFTER_S) {
      chain.last = k;
      sinceS = 0;
    } else {
      if (!isFed && drawA >= OUT_A && chain.last >= 0) isOut = true;
      sinceS += seconds;
    }
  });
  end();
  return within;
}

/** Since a start a regulator that keeps its battery on the edge lets little in, A, lets go of it for so long, s, and takes it back: so often at the least. */
const LITTLE_A = 0.3;
const LITTLE_OUT_A = 1;
const LETS_GO_S = 420;
const LEAST_LITTLE_TURNS = 4;

/** Marks such turns too: nothing else begins with a start and feeds by turns. */
function turnsSinceStart(segments: readonly BareSegment[], cranks: readonly RawCrank[], within: boolean[]): void {
  let chain: { readonly first: number; last: number; turns: number } | null = null;
  let isOut = false;
  let sinceS = 0;
  const end = () => {
    if (chain && chain.turns >= LEAST_LITTLE_TURNS) within.fill(true, chain.first, chain.last + 1);
    chain = null;
  };
  segments.forEach(({ isFed, crank, lost, holeS, drawA, seconds }, k) => {
    if (crank >= 0 || lost !== null || holeS > 0 || sinceS > LETS_GO_S) end();
    if (crank >= 0) {
      chain = isStarted(cranks[crank]) ? { first: k + 1, last: k, turns: 0 } : null;
      isOut = false;
      sinceS = 0;
    } else if (chain && isFed && drawA <= -LITTLE_A) {
      chain = { ...chain, last: k, turns: chain.turns + Number(isOut) };
      isOut = false;
      sinceS = 0;
    } else {
      if (!isFed && drawA >= LITTLE_OUT_A) isOut = true;
      sinceS += seconds;
    }
  });
  end();
}

/** A stretch this long shows how restless it is, s. */
const SHOWS_S = 30;

/** So many dips of so much, A, and no further apart than this, s, are a vehicle's in use. Common practice, no source. */
const LEAST_DIPS = 3;
const DIP_A = 1;
const DIPS_S = 600;

/** What is drawn for so long before it is what the vehicle draws whether somebody is in it or not, s. */
const LONG_BEFORE_S = 900;

type Feeding = Pick<Segment, 'feeding' | 'feedsConsumers' | 'drawnBeforeA'>;
const NO_FEEDING: Feeding = {
  feeding: { amps: Number.NaN, volts: Number.NaN },
  feedsConsumers: false,
  drawnBeforeA: Number.NaN,
};

/** The draw that was kept for long right before segment `first`, A; NaN where none was. */
function longDrawBefore(segments: readonly BareSegment[], first: number): number {
  for (let k = first - 1; k >= 0 && segments[k + 1].holeS === 0 && segments[k].crank < 0 && !segments[k].isFed; k--) {
    if (segments[k].seconds >= LONG_BEFORE_S) return segments[k].drawA;
    // Somebody may have opened the vehicle since.
    if (segments[k].seconds > SHOWS_S) break;
  }
  return Number.NaN;
}

/** Of each segment, how restless the whole feeding is that it belongs to, by its most restless part, and whether it feeds consumers. */
function feedings(segments: readonly BareSegment[]): Feeding[] {
  const of: Feeding[] = segments.map(() => NO_FEEDING);
  for (let first = 0; first < segments.length; first++) {
    if (!segments[first].isFed) continue;
    let last = first;
    while (segments[last + 1]?.isFed && segments[last + 1].holeS === 0) last++;
    const all = segments.slice(first, last + 1);
    const shown = all.filter(({ seconds }) => seconds >= SHOWS_S);
    const most = (values: readonly number[]) => (values.length > 0 ? Math.max(...values) : Number.NaN);
    const feeding = { amps: most(shown.map(({ roughA }) => roughA)), volts: most(shown.map(({ roughV }) => roughV)) };
    const seconds = all.reduce((sum, segment) => sum + segment.seconds, 0);
    const dips = all.filter(({ drawA }, k) => drawA > all[k - 1]?.drawA + DIP_A && drawA > all[k + 1]?.drawA + DIP_A);
    const feedsConsumers = dips.length >= Math.max(LEAST_DIPS, seconds / DIPS_S);
    of.fill({ feeding, feedsConsumers, drawnBeforeA: longDrawBefore(segments, first) }, first, last + 1);
    first = last;
  }
  return of;
}

function fedAgainS(segments: readonly BareSegment[]): (number | null)[] {
  const again: (number | null)[] = new Array(segments.length);
  let nextS: number | null = null;
  for (let k = segments.length - 1; k >= 0; k--) {
    const { isFed, crank, lost, seconds, holeS } = segments[k];
    again[k] = isFed || crank >= 0 ? 0 : lost !== null || nextS === null ? null : seconds + nextS;
    nextS = holeS > 0 ? null : again[k];
  }
  return again;
}

/** Where an engine stops whose generator carried the most, the battery has to carry what is left, and asks for more at once, A; and calmly. */
const TAKES_ON_A = 1;
const CALMER = 0.5;

/**
 * Time from a crank on for which consumers ask for what a running engine's ask for, s; ends with the next crank.
 * They switch all the time, livelier than with the key alone, or they ask for more than the key alone did before it. What a weak generator
 * leaves of them may be less than anything that somebody leaves on: then more is drawn once it stops.
 */
function runsOnS(segments: readonly BareSegment[], crank: number, floor: Restlessness): number {
  const restlessA = Math.max(RUNS_ROUGH_A, 4 * floor.amps);
  const { drawA: keyA = Number.NaN, roughA: keyRough = Number.NaN } = segments[crank - 1] ?? {};
  // Of glow plugs nothing is like what the key alone makes.
  const keyRoughA = keyA > GLOWS_A ? 0 : keyRough;
  const moreA = Math.max(MORE_LEAST_A, MORE * keyA);
  const isLively = ({ roughA }: BareSegment, ofA: number) =>
    roughA >= Math.max(restlessA, LIVELIER * keyRoughA) && roughA <= LIVELY_MOST * ofA;
  let steadyS = 0;
  let drivenS = 0;
  let [carriedS, carriedTo] = [0, crank];
  let [isSteady, isCarried] = [true, true];
  let sinceS = 0;
  for (let j = crank + 1; j < segments.length; j++) {
    const segment = segments[j];
    const { crank: own, holeS, isFed, drawA, roughA, seconds } = segment;
    const isBrief = sinceS + seconds < TAKES_OVER_S;
    // What the generator carries does not show: with the key alone they asked for at least so much.
    isCarried &&= isFed || isBrief || isLively(segment, Math.max(drawA, Math.min(MORE_LEAST_A, keyA)));
    // A weak generator puts something back now and then.
    if (own >= 0 || holeS > 0 || !(isFed || drawA >= LEAST_A || isCarried)) break;
    const isMore = keyA >= RUNS_ON_A && drawA >= moreA;
    isSteady &&= isFed || isLively(segment, drawA) || (drawA >= RUNS_ON_A && (roughA >= restlessA || isMore));
    sinceS += seconds;
    if (isSteady) steadyS = sinceS;
    if (isCarried) [carriedS, carriedTo] = [sinceS, j];
    if (isSwitched(segments, j)) drivenS += seconds;
  }
  return Math.max(steadyS, drivenS, takesOn(segments[carriedTo], segments[carriedTo + 1]) ? carriedS : 0);
}

const takesOn = (before: BareSegment, after: BareSegment | undefined) =>
  after !== undefined &&
  !(after.isFed || after.lost !== null || after.holeS > 0 || after.crank >= 0) &&
  after.drawA >= before.drawA + TAKES_ON_A &&
  after.roughA < CALMER * before.roughA;
