/**
 * Which of the heavy draws were a starter's. An intake heater goes on in pulses while the engine runs already. A winch or a tail-lift draws as much as a small starter, but for longer, more
 * evenly, and no engine runs after it; this vehicle's own starts tell what its starter draws. Common practice, no source.
 */
import { median } from '../../battery/statistics.ts';
import type { HeavyLoad, RawCrank } from './raw-crank.ts';

/** Of the mean draw of the start that took least: less is none of this starter's, in a long draw and in a short one. */
const LONG_S = 5;
const OF_STARTS = { long: 0.65, short: 0.5 };
/** Who turns the starter for long has switched the ignition on before, A. */
const KEY_ON_A = 1;
/** No starter draws less than this for so long, s, and leaves the voltage above that, V for 12 V; in rows this close, s, it is not told as one with another load. */
const EASY = { leastA: 110, seconds: 3, volts: 12, stepS: 0.5 };
/** Right after the starter, s, what draws well below it, with the voltage as high, heats an engine that runs. */
const HEATS_S = 180;
const HEATS_V = 11.6;
/**
 * Of what its starts usually draw and pull down, both: a running engine's steering takes less. A lift with the engine off may draw as
 * much, so many times as long as they take, and at the least so long, s; without a starter's inrush it pulls down as little, or draws less and evenly.
 */
const OF_USUAL = 0.5;
const LONGER = 3;
const LEAST_LIFT_S = 4;
const OF_LIFT = 0.75;
const EVEN = 1.25;
const LEAST_STARTS = 3;
/** Nobody holds the key for longer, s, or a starter's inrush, well above what follows, tells it. */
const HELD_S = 10;
const INRUSH = 1.5;

/** `scale`: of voltages, 1 for a 12 V system. */
export function partStarts(
  found: readonly RawCrank[],
  loads: readonly HeavyLoad[],
  scale: number,
): { cranks: RawCrank[]; loads: HeavyLoad[] } {
  const starts = found.flatMap((crank) => (crank.recovered && crank.ampsMean !== null ? [crank.ampsMean] : []));
  const usual = usualStart(found);
  const startA = starts.length > 0 ? Math.min(...starts) : Number.NaN;
  /** The last draw that was a starter's. */
  let last: RawCrank | null = null;
  const heats = ({ at, ampsMean, voltsMin }: RawCrank) =>
    ampsMean !== null &&
    last?.ampsMean != null &&
    at - last.at < HEATS_S &&
    ampsMean < OF_STARTS.long * last.ampsMean &&
    voltsMin >= HEATS_V * scale;
  const isEasy = ({ seconds, rows, ampsMean, voltsMin }: RawCrank) =>
    ampsMean !== null &&
    ampsMean < EASY.leastA &&
    seconds > EASY.seconds &&
    seconds < EASY.stepS * rows &&
    voltsMin >= EASY.volts * scale;
  const isStarter = (crank: RawCrank) => {
    const { recovered, seconds, ampsMean, ampsPeak, ampsBefore, isFlat } = crank;
    if (recovered || ampsMean === null || ampsPeak === null) return true;
    if (isFlat) return false;
    const isLong = seconds > LONG_S;
    if (isLong && ampsBefore !== null && ampsBefore < KEY_ON_A) return false;
    if (seconds > HELD_S && ampsPeak < INRUSH * ampsMean) return false;
    return !(ampsMean < startA * (isLong ? OF_STARTS.long : OF_STARTS.short));
  };
  const isOther = ({ ampsMean, ampsPeak, voltsBefore, voltsMin, recovered, seconds }: RawCrank) => {
    if (usual === null || ampsMean === null || ampsPeak === null || voltsMin < HEATS_V * scale) return false;
    const isShallow = voltsBefore - voltsMin < OF_USUAL * usual.dipV;
    const isLong = !recovered && seconds > Math.max(LEAST_LIFT_S, LONGER * usual.seconds);
    const isEven = ampsMean < OF_LIFT * usual.amps && ampsPeak < EVEN * ampsMean;
    return (isShallow && (isLong || ampsMean < OF_USUAL * usual.amps)) || (isLong && isEven);
  };
  const cranks = found.filter((crank) => {
    if (heats(crank) || isEasy(crank) || isOther(crank) || !isStarter(crank)) return false;
    last = crank;
    return true;
  });
  const others = found.filter((crank) => !cranks.includes(crank));
  return {
    cranks,
    loads: [
      ...loads,
      ...others.map(({ at, seconds, ampsMean, voltsMin }) => ({ at, seconds, meanA: ampsMean ?? 0, voltsMin })),
    ].sort((a, b) => a.at - b.at),
  };
}

/** What starts draw, A, pull down, V, and take, s: those after which an engine ran, where there are enough, else all; null where too few show it. */
function usualStart(found: readonly RawCrank[]): { amps: number; dipV: number; seconds: number } | null {
  const known = found.filter(({ ampsMean }) => ampsMean !== null);
  const sure = known.filter(({ recovered }) => recovered);
  const starts = sure.length >= LEAST_STARTS ? sure : known;
  if (starts.length < LEAST_STARTS) return null;
  return {
    amps: median(starts.map(({ ampsMean }) => ampsMean ?? 0)),
    dipV: median(starts.map(({ voltsBefore, voltsMin }) => voltsBefore - voltsMin)),
    seconds: median(starts.map(({ seconds }) => seconds)),
  };
}
