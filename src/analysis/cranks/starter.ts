/**
 * Which of the heavy draws were a starter's. A winch or a tail-lift draws as much as a small starter, but for longer, more
 * evenly, and no engine runs after it; this vehicle's own starts tell what its starter draws. Common practice, no source.
 */
import { median } from '../../battery/statistics.ts';
import type { HeavyLoad, RawCrank } from './crank-measure.ts';

/** Of the usual start's mean draw: less is none of this starter's, in a long draw and in a short one. */
const LONG_S = 5;
const OF_STARTS = { long: 0.65, short: 0.5 };
/** Without a start to go by: nobody holds the key for longer, s; a starter's inrush is well above what follows. */
const HELD_S = 10;
const INRUSH = 1.5;

export function partStarts(
  found: readonly RawCrank[],
  loads: readonly HeavyLoad[],
): { cranks: RawCrank[]; loads: HeavyLoad[] } {
  const startA = median(found.flatMap((crank) => (crank.recovered && crank.ampsMean !== null ? [crank.ampsMean] : [])));
  const isStarter = (crank: RawCrank) => {
    if (crank.recovered || crank.ampsMean === null || crank.ampsPeak === null) return true;
    if (startA > 0) return crank.ampsMean >= startA * (crank.seconds > LONG_S ? OF_STARTS.long : OF_STARTS.short);
    return crank.seconds <= HELD_S || crank.ampsPeak >= INRUSH * crank.ampsMean;
  };
  const others = found.filter((crank) => !isStarter(crank));
  return {
    cranks: found.filter(isStarter),
    loads: [
      ...loads,
      ...others.map(({ at, seconds, ampsMean, voltsMin }) => ({ at, seconds, meanA: ampsMean ?? 0, voltsMin })),
    ].sort((a, b) => a.at - b.at),
  };
}
