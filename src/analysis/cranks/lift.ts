/**
 * What a start lifts the voltage to, in a log that has no current: levels differ from meter to meter (a controller's own supply
 * reads a volt less than the battery's posts), but only a generator lifts a voltage above what it rested at, and keeps it there.
 * All figures are common practice, no source, V for 12 V.
 */

/** Time constant of the level, s: steering and fans are shorter. */
const LEVEL_S = 4;
/** A generator takes over within this, s. */
const TAKES_OVER_S = 30;
/** So far above all that it rested at something feeds it; above what a switched-on vehicle left of that, it takes more. */
const LIFTS_V = 0.5;
const TAKES_OVER_V = 0.8;
/** What it rests at is kept so long, s. */
const RESTS_S = 60;
/** Of the lift: below it the engine has stopped. */
const STOPPED = 0.4;
/** Of the start's dip below the rest: so deep only the starter pulls again while something feeds. */
const AS_DEEP = 0.6;
/** Soon after an attempt, s, another one that starts nothing is not far shallower, unless it lasts, s. */
const SOON_S = 600;
const SHALLOW = 0.7;
const LASTS_S = 2;
/** After a silence so long nothing is known, s. */
const SILENCE_S = 60;

/** Voltage at rest before a start, and what it was lifted to, V. */
export interface Lift {
  readonly restV: number;
  toV: number;
}

/** The voltage falls at `at`, s, from `voltsBefore` to `voltsMin`, V; `recovered`: and rises above what it was. */
export interface Dip {
  readonly at: number;
  readonly seconds: number;
  readonly voltsBefore: number;
  readonly voltsMin: number;
  readonly recovered: boolean;
}

export interface LiftWatch {
  /** One row without current; `isRest`: no dip is under way. */
  take(t: number, v: number, isRest: boolean): void;
  /** The supply was lost. */
  forget(): void;
  /** A dip is one of a running engine's supply. */
  isRunnings(dip: Dip): boolean;
  /** A start, or an attempt: its lift follows, where there is one. */
  started(dip: Dip): void;
  /** The start's lift has become known. */
  onLift: ((lift: Lift) => void) | null;
}

/** `scale`: system voltage / 12 V. */
export function createLiftWatch(scale: number): LiftWatch {
  let level = Number.NaN;
  let lastT = Number.NaN;
  /** What the voltage keeps, and the highest of it while nothing was known to feed, V. */
  let keptV = Number.NaN;
  let restV = Number.NaN;
  let start: Dip | null = null;
  let lift: Lift | null = null;
  /** The lift of this start, also while it pauses: one that comes back lower is no other. */
  let known: Lift | null = null;
  const stoppedV = (known: Lift) => known.restV + STOPPED * (known.toV - known.restV);
  const liftsV = LIFTS_V * scale;
  const follow = (kept: number, v: number, sinceS: number, tauS: number) =>
    sinceS < SILENCE_S ? kept + (v - kept) * Math.min(1, sinceS / tauS) : v;
  const watch: LiftWatch = {
    onLift: null,
    take(t, v, isRest) {
      const sinceS = t - lastT;
      level = follow(level, v, sinceS, LEVEL_S);
      keptV = follow(keptV, level, sinceS, RESTS_S);
      lastT = t;
      if (start && !lift) {
        const isTakeover =
          t - start.at - start.seconds < TAKES_OVER_S && level >= start.voltsBefore + TAKES_OVER_V * scale;
        if (isTakeover) restV = start.voltsBefore;
        if (isTakeover || level >= restV + liftsV) {
          lift = known ?? { restV, toV: level };
          if (!known) watch.onLift?.(lift);
          known = lift;
        }
      }
      if (lift && level < stoppedV(lift)) lift = null;
      if (lift) lift.toV = Math.max(lift.toV, level);
      else if (isRest) restV = highest(restV, start ? keptV : level);
    },
    forget() {
      start = null;
      lift = known = null;
      lastT = Number.NaN;
    },
    isRunnings({ at, seconds, voltsBefore, voltsMin, recovered }) {
      if (!start) return false;
      const deep = start.voltsBefore - start.voltsMin;
      if (lift) return voltsBefore >= stoppedV(lift) && voltsMin > start.voltsBefore - AS_DEEP * deep;
      return !recovered && at - start.at < SOON_S && seconds < LASTS_S && voltsBefore - voltsMin < SHALLOW * deep;
    },
    started(dip) {
      start = dip;
      lift = known = null;
      restV = highest(restV, dip.voltsBefore);
      keptV = Math.min(level, dip.voltsBefore);
    },
  };
  return watch;
}

/** Of two, one of which may not be known. */
const highest = (a: number, b: number) => (b <= a || Number.isNaN(b) ? a : b);
