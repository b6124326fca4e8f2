/** What happened besides: starts that failed or took long, and heavy loads with the engine off. Limits: common practice, no source. */
import type { HeavyLoad, RawCrank } from '../cranks/crank-measure.ts';
import type { Crank, VehicleEvent } from '../model.ts';
import { type Tiles, tileAt } from '../tiles/tiles.ts';
import type { Label } from './label.ts';

/** A sound engine runs within this, also a cold one, s. */
const LONG_START_S = 5;
/** Shorter draws are no load of their own; glow plugs lead into a crank, s. */
const LEAST_LOAD_S = 1;
const GLOW_S = 20;

export function findEvents(
  tiles: Tiles,
  labels: readonly Label[],
  raw: readonly RawCrank[],
  cranks: readonly Crank[],
  loads: readonly HeavyLoad[],
): VehicleEvent[] {
  const starts = cranks.flatMap((crank, k): VehicleEvent[] => {
    const { at, seconds, voltsMin, started } = crank;
    if (started && seconds < LONG_START_S) return [];
    const kind = started ? 'long-start' : 'failed-start';
    return [{ kind, start: at, seconds, meanA: raw[k].ampsMean, voltsMin }];
  });
  const heavy = loads.flatMap(({ at, seconds, meanA, voltsMin }): VehicleEvent[] => {
    const end = at + seconds;
    const isGlow = cranks.some((crank) => crank.at >= at && crank.at < end + GLOW_S);
    const label = labels[tileAt(tiles, at + seconds / 2)];
    if (seconds < LEAST_LOAD_S || isGlow || label === 'driving' || label === 'cranking') return [];
    return [{ kind: 'heavy-load', start: at, seconds, meanA, voltsMin }];
  });
  return [...starts, ...heavy].sort((a, b) => a.start - b.start);
}
