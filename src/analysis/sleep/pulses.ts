/**
 * Pulses of a sleeping vehicle: an alarm lamp that flashes all night draws for a moment every few seconds, and wakes
 * nothing. They are told from wakes by how close they follow each other, for how long, and how little they come to. The
 * figures are common practice, no source.
 */
import type { TileSpan, Tiles } from '../tiles/tiles.ts';

/** Longest stretch of tiles that a pulse of about a second, or two next to each other, can touch, s. */
const PULSE_S = 6;
/** So many in a row, at one a minute or more on the mean: some may fall between the rows. */
const IN_A_ROW = 30;
const EVERY_S = 60;

/** Tiles that a pulse makes stand out. */
interface Pulse extends TileSpan {
  /** Time at rest before it, pulses included, s, and the charge drawn in that time, A·s. */
  readonly restS: number;
  readonly drawnAs: number;
}

export interface Train {
  readonly pulses: readonly Pulse[];
  /** From its first pulse to its last without what else went on there, s; and the mean draw in that time, A. */
  readonly restS: number;
  readonly drawA: number;
}

/**
 * Trains of pulses among `tiles` `first` to `last`, both included. `drawAt`: draw of a tile, A, NaN where it does not
 * count. At rest a tile draws `calmA` at the most; where more lasts for longer than a pulse it is neither rest nor pulse.
 */
export function findTrains(
  tiles: Tiles,
  [first, last]: readonly [number, number],
  drawAt: (k: number) => number,
  calmA: number,
): Train[] {
  const pulses = findPulses(tiles, [first, last], drawAt, calmA);
  const trains: Pulse[][] = [];
  let taken = 0;
  for (let end = IN_A_ROW; end <= pulses.length; end++) {
    const begin = end - IN_A_ROW;
    if (pulses[end - 1].restS - pulses[begin].restS > IN_A_ROW * EVERY_S) continue;
    if (begin < taken) trains[trains.length - 1].push(...pulses.slice(taken, end));
    else trains.push(pulses.slice(begin, end));
    taken = end;
  }
  return trains.map((train) => {
    const [from, to] = [train[0], train[train.length - 1]];
    const restS = to.restS - from.restS;
    return { pulses: train, restS, drawA: (to.drawnAs - from.drawnAs) / restS };
  });
}

function findPulses(
  tiles: Tiles,
  [first, last]: readonly [number, number],
  drawAt: (k: number) => number,
  calmA: number,
): Pulse[] {
  const pulses: Pulse[] = [];
  let restS = 0;
  let drawnAs = 0;
  function rest(from: number, to: number): void {
    for (let k = from; k <= to; k++) drawnAs += drawAt(k) * (tiles.t1[k] - tiles.t0[k]);
    restS += tiles.t1[to] - tiles.t0[from];
  }
  for (let k = first; k <= last; k++) {
    const begin = k;
    while (k <= last && drawAt(k) > calmA) k++;
    if (k > begin && tiles.t1[k - 1] - tiles.t0[begin] <= PULSE_S) {
      pulses.push({ first: begin, last: k - 1, restS, drawnAs });
      rest(begin, k - 1);
    }
    if (k <= last && drawAt(k) <= calmA) rest(k, k);
  }
  return pulses;
}
