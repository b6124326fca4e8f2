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
/** Who leaves a vehicle leaves less, A. */
const LEAST_A = 1;
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
  /** Time since a start after which the battery has been fed, but for the moments that a generator takes; null without one. */
  let unfedS: number | null = null;
  return segments.map((segment, k) => {
    const { isFed, holeS, lost, crank } = segment;
    if (crank >= 0) unfedS = cranks[crank].recovered ? 0 : null;
    else if (holeS > 0 || lost !== null) unfedS = null;
    else if (unfedS !== null && !isFed)
      unfedS = unfedS + segment.seconds > TAKES_OVER_S ? null : unfedS + segment.seconds;
    const isSinceStart = isFed && crank < 0 && unfedS !== null;
    const ahead = { againS: again[k], isSinceStart, isSwitched: isSwitched(segments, k), feeding: feeding[k] };
    if (crank < 0) return { ...segment, ...ahead, started: 0 };
    const { at, seconds, recovered } = cranks[segment.crank];
    const next = cranks[segment.crank + 1]?.at;
    let fedBetween = false;
    for (let j = k + 1; j < segments.length && segments[j].crank <= segment.crank; j++)
      if (segments[j].isFed) fedBetween = true;
    const isRetried = next !== undefined && next - at - seconds < RETRY_S && !fedBetween;
    const runsOn = !fedBetween && runsOnS(segments, k, floor) >= RUNS_ON_S;
    return { ...segment, ...ahead, started: isRetried ? RETRIED : recovered ? STARTED : runsOn ? RUNS_ON : 0 };
  });
}

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

/** A stretch this long shows how restless it is, s. */
const SHOWS_S = 30;

/** Of each segment, how restless the whole feeding is that it belongs to: by its most restless part. */
function feedings(segments: readonly BareSegment[]): Restlessness[] {
  const of: Restlessness[] = segments.map(() => ({ amps: Number.NaN, volts: Number.NaN }));
  for (let first = 0; first < segments.length; first++) {
    if (!segments[first].isFed) continue;
    let last = first;
    while (segments[last + 1]?.isFed && segments[last + 1].holeS === 0) last++;
    const shown = segments.slice(first, last + 1).filter(({ seconds }) => seconds >= SHOWS_S);
    const most = (values: readonly number[]) => (values.length > 0 ? Math.max(...values) : Number.NaN);
    const amps = most(shown.map(({ roughA }) => roughA));
    of.fill({ amps, volts: most(shown.map(({ roughV }) => roughV)) }, first, last + 1);
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

/**
 * Time from a crank on for which consumers ask for what a running engine's ask for, s; ends with the next crank. They switch all the
 * time; or they ask for more than the key alone did before it.
 */
function runsOnS(segments: readonly BareSegment[], crank: number, floor: Restlessness): number {
  const restlessA = Math.max(RUNS_ROUGH_A, 4 * floor.amps);
  const { drawA: keyA = Number.NaN } = segments[crank - 1] ?? {};
  const moreA = Math.max(MORE_LEAST_A, MORE * keyA);
  let steadyS = 0;
  let drivenS = 0;
  let isSteady = true;
  for (let j = crank + 1; j < segments.length; j++) {
    const { crank: own, holeS, drawA, roughA, seconds } = segments[j];
    if (own >= 0 || holeS > 0 || !(drawA >= LEAST_A)) break;
    const isMore = keyA >= RUNS_ON_A && drawA >= moreA;
    isSteady &&= drawA >= RUNS_ON_A && (roughA >= restlessA || isMore);
    if (isSteady) steadyS += seconds;
    if (isSwitched(segments, j)) drivenS += seconds;
  }
  return Math.max(steadyS, drivenS);
}
