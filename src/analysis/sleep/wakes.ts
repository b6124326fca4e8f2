/** Wakes: awake stretches between two asleep stretches of a stand. */
import type { Channel } from '../../manifest/session.ts';
import type { PeriodKind, Wake } from '../model.ts';
import type { Label } from '../states/label.ts';
import type { TileSpan, Tiles } from '../tiles/tiles.ts';

/** A reading one step up makes a tile of one row, or two in a slow log. */
const FLICKER_ROWS = 3;

export interface WakeView {
  readonly tiles: Tiles;
  readonly labels: readonly Label[];
  readonly kinds: readonly PeriodKind[];
  readonly channels: readonly Channel[];
  /** Smallest step of the current column, A. */
  readonly stepA: number;
}

/** `levelA`: what the stand draws asleep, null where it never slept; `index`: the stand's place among all. */
export function findWakes(view: WakeView, { first, last }: TileSpan, levelA: number | null, index: number): Wake[] {
  if (levelA === null) return [];
  const { kinds, labels } = view;
  const wakes: Wake[] = [];
  for (let k = first + 1; k < last; k++) {
    if (kinds[k] !== 'awake' || kinds[k - 1] !== 'asleep') continue;
    const from = k;
    while (k < last && kinds[k + 1] === 'awake') k++;
    if (k >= last || kinds[k + 1] !== 'asleep') continue;
    if (labels.slice(from, k + 1).includes('top-up')) continue;
    const stretch = { first: from, last: k };
    const wake = { ...measureWake(view, stretch, levelA), stand: index };
    if (!isFlicker(view, stretch, wake.peakA)) wakes.push(wake);
  }
  return wakes;
}

/** A coarse sensor between two of its steps: a reading or two one step up, and back. Common practice, no source. */
function isFlicker({ tiles, stepA }: WakeView, { first, last }: TileSpan, peakA: number): boolean {
  let rows = 0;
  for (let k = first; k <= last; k++) rows += tiles.rows[k];
  return rows <= FLICKER_ROWS && peakA < 1.5 * stepA;
}

function measureWake({ tiles, channels }: WakeView, { first, last }: TileSpan, levelA: number): Omit<Wake, 'stand'> {
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
    channels: channels.map((channel) => channel.label).filter((label) => active.has(label)),
  };
}

/** A channel without a threshold counts as active above half the voltage of its battery. */
export function isActive(tiles: Tiles, c: number, k: number, channel: Channel): boolean {
  if (channel.activeBelowV !== undefined) return tiles.chMin[c][k] < channel.activeBelowV;
  return tiles.chMax[c][k] > (channel.activeAboveV ?? 0.5 * tiles.v[k]);
}
