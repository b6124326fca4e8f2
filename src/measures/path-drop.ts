/**
 * Voltage lost along a cable or ground that a channel is set across: its resistance, from the tiles in which the battery
 * gave most, and what that makes at a steady load. The channel's own zero is taken off.
 */

import type { Analysis, Crank, Measured } from '../analysis/model.ts';
import type { Tiles } from '../analysis/tiles/tiles.ts';
import { tilesIn } from '../analysis/tiles/tiles-in.ts';
import { INRUSH_S } from '../battery/cranking.ts';
import { mean, median, robustSd } from '../battery/statistics.ts';
import { FULL_SCALE } from './clipping.ts';
import { measure } from './measure.ts';

/** Least draw at which a drop can be told, A; and the share of the largest one that still counts. */
const LEAST_A = 10;
const NEAR_MOST = 0.5;
const MOST_TILES = 50;

export interface PathDrop {
  /** Ω, with its standard uncertainty from scatter alone. */
  readonly ohm: Measured;
  /** Steady draw while cranking, or the largest draw without a crank, A: what the drop is told for. */
  readonly loadA: number;
  readonly cranking: boolean;
  /** Drop against draw of every tile with a load, the heaviest first. */
  readonly points: readonly { readonly amps: number; readonly volts: number }[];
  /** Tiles that it is from, and the heaviest of them, s since the epoch. */
  readonly tiles: number;
  readonly at: number;
}

/** One for each channel; null where it is set across nothing, or the battery never gave enough while it read. */
export const pathDrops = measure((analysis, session): readonly (PathDrop | null)[] =>
  session.log.channels.map((channel, c) =>
    channel.measures === 'drop' ? pathDrop(analysis, c, session.log.columns.current?.rangeA) : null,
  ),
);

function pathDrop(analysis: Analysis, c: number, rangeA: number | undefined): PathDrop | null {
  const { tiles } = analysis;
  // Where the current ran out of range, the drop is that of a larger one.
  const clippedA = FULL_SCALE * (rangeA ?? Number.POSITIVE_INFINITY);
  const zero = channelZero(analysis, c);
  const loaded = tilesIn(analysis, ['cranking', 'key-on', 'settling', 'awake']).filter(
    (k) => -tiles.iMin[k] >= LEAST_A && -tiles.iMin[k] < clippedA && !Number.isNaN(tiles.chMax[c][k]),
  );
  if (loaded.length === 0) return null;
  loaded.sort((a, b) => tiles.iMin[a] - tiles.iMin[b]);
  const points = loaded.map((k) => ({ amps: -tiles.iMin[k], volts: extreme(tiles, c, k, zero) }));
  const mostA = points[0].amps;
  const heavy = points.filter(({ amps }) => amps >= NEAR_MOST * mostA).slice(0, MOST_TILES);
  const ohms = heavy.map(({ amps, volts }) => volts / amps);
  const steadyA = analysis.cranks.map(steadyDraw).filter((a) => a !== null);
  return {
    ohm: { value: median(ohms), u: (1.25 * robustSd(ohms)) / Math.sqrt(ohms.length) },
    loadA: steadyA.length > 0 ? median(steadyA) : mostA,
    cranking: steadyA.length > 0,
    points,
    tiles: heavy.length,
    at: tiles.t0[loaded[0]],
  };
}

/** What the channel reads with next to no current: its middle while asleep, 0 where the log holds no sleep. */
function channelZero(analysis: Analysis, c: number): number {
  const { chMin, chMax } = analysis.tiles;
  const quiet = tilesIn(analysis, ['asleep'])
    .map((k) => (chMin[c][k] + chMax[c][k]) / 2)
    .filter(Number.isFinite);
  return quiet.length > 0 ? median(quiet) : 0;
}

/** Largest deviation from the zero in a tile, V: the drop of the tile's largest draw, whichever way the channel is clipped on. */
function extreme(tiles: Tiles, c: number, k: number, zero: number): number {
  return Math.max(tiles.chMax[c][k] - zero, zero - tiles.chMin[c][k]);
}

/** Mean draw after the inrush, A; null where the waveform does not hold three samples of it. */
function steadyDraw({ wave, at, seconds }: Crank): number | null {
  const steady = [...wave.i].filter((i, k) => {
    const t = wave.t[k];
    return t >= at + INRUSH_S && t <= at + seconds && !Number.isNaN(i);
  });
  return steady.length >= 3 ? Math.abs(mean(steady)) : null;
}
