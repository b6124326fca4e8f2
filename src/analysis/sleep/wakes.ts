/** Wakes: awake stretches between two asleep stretches of a stand. */
import type { Channel } from '../../manifest/session.ts';
import type { PeriodKind, Wake } from '../model.ts';
import type { Label } from '../states/label.ts';
import type { StandTiles } from '../states/stands.ts';
import type { Tiles } from '../tiles/tiles.ts';

/** A reading one step up makes a tile of one row, or two in a slow log. */
const FLICKER_ROWS = 3;

/** `stepA`: the smallest step of the current column. */
export function findWakes(
  tiles: Tiles,
  labels: readonly Label[],
  kinds: readonly PeriodKind[],
  stand: StandTiles,
  index: number,
  levelA: number | null,
  channels: readonly Channel[],
  stepA: number,
): Wake[] {
  if (levelA === null) return [];
  const wakes: Wake[] = [];
  for (let k = stand.first + 1; k < stand.last; k++) {
    if (kinds[k] !== 'awake' || kinds[k - 1] !== 'asleep') continue;
    const first = k;
    while (k < stand.last && kinds[k + 1] === 'awake') k++;
    if (k >= stand.last || kinds[k + 1] !== 'asleep') continue;
    if (labels.slice(first, k + 1).includes('top-up')) continue;
    const wake = measureWake(tiles, first, k, index, levelA, channels);
    if (!isFlicker(tiles, first, k, wake.peakA, stepA)) wakes.push(wake);
  }
  return wakes;
}

/** A coarse sensor between two of its steps: a reading or two one step up, and back. Common practice, no source. */
function isFlicker(tiles: Tiles, first: number, last: number, peakA: number, stepA: number): boolean {
  let rows = 0;
  for (let k = first; k <= last; k++) rows += tiles.rows[k];
  return rows <= FLICKER_ROWS && peakA < 1.5 * stepA;
}

function measureWake(
  tiles: Tiles,
  first: number,
  last: number,
  stand: number,
  levelA: number,
  channels: readonly Channel[],
): Wake {
  let peakA = 0;
  let chargeAs = 0;
  let covered = 0;
  const active = new Set<string>();
  for (let k = first; k <= last; k++) {
    // Not so where the tile has no reading of current.
    if (-tiles.iMin[k] - levelA > peakA) peakA = -tiles.iMin[k] - levelA;
    chargeAs += -tiles.netAs[k] - levelA * tiles.iCov[k];
    covered += tiles.iCov[k];
    channels.forEach((channel, c) => {
      if (isActive(tiles, c, k, channel)) active.add(channel.label);
    });
  }
  return {
    start: tiles.t0[first],
    seconds: tiles.t1[last] - tiles.t0[first],
    peakA,
    meanA: covered > 0 ? chargeAs / covered : 0,
    chargeAh: chargeAs / 3600,
    stand,
    channels: channels.map((channel) => channel.label).filter((label) => active.has(label)),
  };
}

/** A channel without a threshold counts as active above half the voltage of its battery. */
export function isActive(tiles: Tiles, c: number, k: number, channel: Channel): boolean {
  if (channel.activeBelowV !== undefined) return tiles.chMin[c][k] < channel.activeBelowV;
  return tiles.chMax[c][k] > (channel.activeAboveV ?? 0.5 * tiles.v[k]);
}
