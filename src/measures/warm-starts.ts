/**
 * Starters that drag when they are hot. Cold oil is stiff, so a sound engine turns the more easily the warmer it is: its starter draws
 * less and for a shorter time. Where every warm start draws far more than any cold one, and takes no less time, something turns hard
 * when it is hot: the starter's bearings or windings, or the engine. A battery, or a cable, makes no starter draw more.
 */
import type { Analysis, Crank } from '../analysis/model.ts';
import { median } from '../battery/statistics.ts';
import { measure } from './measure.ts';
import { presentBattery } from './present-battery.ts';
import { measuredCranks, starterA } from './starter.ts';

/** Driven for so long and standing for no longer than that, an engine is warm; cold after so long, s. Common practice, no source. */
const WARMED_S = 600;
const STAYS_WARM_S = 5400;
const COLD_AFTER_S = 4 * 3600;
/** So many of each, and so far apart, are no chance: of the draw, and of the time. Common practice, no source. */
const LEAST_STARTS = 2;
const MORE = 1.4;
const LONGER = 1.2;

interface Starts {
  readonly count: number;
  /** Middle of the steady draws after the inrush, A, and of the lengths, s. */
  readonly amps: number;
  readonly seconds: number;
}

export interface DragsHot {
  readonly warm: Starts;
  readonly cold: Starts;
}

/** Null where too few starts show their draw, and where warm ones are the easier. */
export const dragsHot = measure((all, session): DragsHot | null => {
  const analysis = presentBattery(all, session);
  const starts = measuredCranks(all, session).flatMap((crank) => {
    const amps = crank.started ? starterA([crank]) : null;
    return amps === null ? [] : [{ amps, seconds: crank.seconds, state: stateAt(analysis, crank) }];
  });
  const of = (state: 'warm' | 'cold') => starts.filter((one) => one.state === state);
  const [warm, cold] = [of('warm'), of('cold')];
  if (warm.length < LEAST_STARTS || cold.length < LEAST_STARTS) return null;
  const isMore = Math.min(...warm.map(({ amps }) => amps)) > MORE * Math.max(...cold.map(({ amps }) => amps));
  const [own, other] = [middle(warm), middle(cold)];
  return isMore && own.seconds >= LONGER * other.seconds ? { warm: own, cold: other } : null;
});

/** Null in between, where the log begins too late to tell, and while an engine that pauses at lights is started again. */
function stateAt({ drives, start }: Analysis, { at }: Crank): 'warm' | 'cold' | null {
  if (drives.some((drive) => drive.start < at - 60 && drive.end > at + 60)) return null;
  const before = drives.findLast((drive) => drive.end <= at);
  const stoodS = at - (before?.end ?? start);
  if (stoodS >= COLD_AFTER_S) return 'cold';
  return before && before.end - before.start >= WARMED_S && stoodS <= STAYS_WARM_S ? 'warm' : null;
}

const middle = (starts: readonly { readonly amps: number; readonly seconds: number }[]): Starts => ({
  count: starts.length,
  amps: median(starts.map(({ amps }) => amps)),
  seconds: median(starts.map(({ seconds }) => seconds)),
});
