/**
 * Which of the heavy draws were a starter's. A winch or a tail-lift draws as much as a small starter, but for longer, more
 * evenly, and no engine runs after it; this vehicle's own starts tell what its starter draws. Common practice, no source.
 */
import type { HeavyLoad, RawCrank } from './raw-crank.ts';

/** Of the mean draw of the start that took least: less is none of this starter's, in a long draw and in a short one. */
const LONG_S = 5;
const OF_STARTS = { long: 0.65, short: 0.5 };
/** Who turns the starter for long has switched the ignition on before, A. */
const KEY_ON_A = 1;
/** Nobody holds the key for longer, s, or a starter's inrush, well above what follows, tells it. */
const HELD_S = 10;
const INRUSH = 1.5;

export function partStarts(
  found: readonly RawCrank[],
  loads: readonly HeavyLoad[],
): { cranks: RawCrank[]; loads: HeavyLoad[] } {
  const starts = found.flatMap((crank) => (crank.recovered && crank.ampsMean !== null ? [crank.ampsMean] : []));
  const startA = starts.length > 0 ? Math.min(...starts) : Number.NaN;
  const isStarter = ({ recovered, seconds, ampsMean, ampsPeak, ampsBefore, isFlat }: RawCrank) => {
    if (recovered || ampsMean === null || ampsPeak === null) return true;
    if (isFlat) return false;
    const isLong = seconds > LONG_S;
    if (isLong && ampsBefore !== null && ampsBefore < KEY_ON_A) return false;
    if (seconds > HELD_S && ampsPeak < INRUSH * ampsMean) return false;
    return !(ampsMean < startA * (isLong ? OF_STARTS.long : OF_STARTS.short));
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
