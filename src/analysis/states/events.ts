/** What happened besides: starts that failed or took long, and heavy loads with the engine off. Limits: common practice, no source. */
import { perTwelveVolt, type SystemVoltage } from '../../battery/chemistry.ts';
import { median } from '../../battery/statistics.ts';
import type { HeavyLoad, RawCrank } from '../cranks/raw-crank.ts';
import type { Crank, VehicleEvent } from '../model.ts';
import { type Tiles, tileAt } from '../tiles/tiles.ts';
import type { Label } from './label.ts';

/** A sound engine runs within this, also a cold one, s. */
const LONG_START_S = 5;
/** What glow plugs and heaters draw before a start pulls the voltage no lower than this, V for 12 V, with less than that, A. */
const GLOWS_V = 11.6;
const STARTER_A = 150;
/** Shorter draws are no load of their own; glow plugs lead into a crank, s. */
const LEAST_LOAD_S = 1;
const GLOW_S = 20;

/** Starts that succeeded and so show what this vehicle's starter does; and the least share of their dip that is one. Common practice, no source. */
const LEAST_STARTS = 2;
const LEAST_DIP = 0.5;

/** 0 where too few starts show it, V. */
function leastDipOf(cranks: readonly Crank[]): number {
  const dips = cranks.filter(({ started }) => started).map(({ voltsBefore, voltsMin }) => voltsBefore - voltsMin);
  return dips.length < LEAST_STARTS ? 0 : LEAST_DIP * median(dips);
}

/** Loads so near to each other in current are one load, used again and again. Common practice, no source. */
const SAME_LOAD = 0.25;
const MANY = 3;

/** True of what draws as several heavy loads of this log do that nobody takes for a start, where its starts are known. */
function isOneOfMany(amps: number | null, loads: readonly HeavyLoad[], cranks: readonly Crank[]): boolean {
  if (amps === null) return false;
  const alike = loads.filter(({ meanA }) => Math.abs(meanA - amps) < SAME_LOAD * amps);
  return alike.length >= MANY && cranks.filter(({ started }) => started).length >= LEAST_STARTS;
}

export function findEvents(
  tiles: Tiles,
  labels: readonly Label[],
  raw: readonly RawCrank[],
  cranks: readonly Crank[],
  loads: readonly HeavyLoad[],
  systemV: SystemVoltage,
): VehicleEvent[] {
  const scale = perTwelveVolt(systemV);
  const leastDipV = leastDipOf(cranks);
  const starts = cranks.flatMap((crank, k): VehicleEvent[] => {
    const { at, seconds, voltsBefore, voltsMin, started } = crank;
    const meanA = raw[k]?.ampsMean ?? null;
    // In slow rows what glowed before the start is told as one with it.
    const isGlowing = meanA !== null && meanA < STARTER_A && voltsMin >= GLOWS_V * scale;
    if (started && (seconds < LONG_START_S || isGlowing)) return [];
    // Where a starter has been seen to turn, what pulls the voltage down so much less is no starter: a lift, a winch.
    const isLoad = !started && (voltsBefore - voltsMin < leastDipV || isOneOfMany(meanA, loads, cranks));
    const kind = started ? 'long-start' : isLoad ? 'heavy-load' : 'failed-start';
    return [{ kind, start: at, seconds, meanA, voltsMin }];
  });
  const heavy = loads.flatMap(({ at, seconds, meanA, voltsMin }): VehicleEvent[] => {
    const end = at + seconds;
    // Slow rows need not show the crank itself.
    const isDrivenOff = labels[tileAt(tiles, end + GLOW_S)] === 'driving';
    const isGlow = isDrivenOff || cranks.some((crank) => crank.at >= at && crank.at < end + GLOW_S);
    const label = labels[tileAt(tiles, at + seconds / 2)];
    if (seconds < LEAST_LOAD_S || isGlow || label === 'driving' || label === 'cranking') return [];
    return [{ kind: 'heavy-load', start: at, seconds, meanA, voltsMin }];
  });
  return [...starts, ...heavy].sort((a, b) => a.start - b.start);
}
