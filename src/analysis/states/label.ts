/** What each tile belongs to, before sleep is looked for: driving, cranking, key-on, charger, disconnected, or parked. */

import type { RawCrank } from '../cranks/crank-measure.ts';
import type { PeriodKind } from '../model.ts';
import { joined, type Tiles, tileAt } from '../tiles/tiles.ts';
import type { FedSpan } from './restless.ts';
import type { LostSupply } from './supply.ts';
import { KEY_ON_A, TAKEOVER_S } from './uncharged.ts';

export type Label = Exclude<PeriodKind, 'settling' | 'asleep' | 'awake'> | 'parked' | 'top-up';

/** With the key on more may be asked of the seconds before a crank, up to this; common practice, no source, A. */
const KEY_ON_MOST_A = 6;
/** Longest that an engine-off key-on stretch is followed back from a crank, s. */
const KEY_ON_LONGEST_S = 900;

export function labelTiles(
  tiles: Tiles,
  cranks: readonly RawCrank[],
  fed: readonly FedSpan[],
  lost: LostSupply,
): Label[] {
  const labels: Label[] = new Array(tiles.n).fill('parked');
  for (const span of fed) labels.fill(span.kind, span.first, span.last + 1);
  lost.forEach((kind, k) => {
    if (kind) labels[k] = kind;
  });
  for (const crank of cranks) labelCrank(tiles, labels, crank);
  for (const crank of cranks) labelAround(tiles, labels, crank);
  for (const span of fed) if (span.kind === 'driving') labelKeyOn(tiles, labels, span.first - 1);
  return labels;
}

function labelCrank(tiles: Tiles, labels: Label[], crank: RawCrank): void {
  for (let k = tileAt(tiles, crank.at); k < tiles.n && tiles.t0[k] < crank.at + crank.seconds - 1e-6; k++) {
    labels[k] = 'cranking';
  }
}

/** Before a crank the key is on; after it the engine runs, the next attempt follows, or the key is taken to be off. */
function labelAround(tiles: Tiles, labels: Label[], crank: RawCrank): void {
  labelKeyOn(tiles, labels, tileAt(tiles, crank.at) - 1);
  const first = tileAt(tiles, crank.at + crank.seconds);
  let k = first;
  while (k < tiles.n && labels[k] === 'cranking') k++;
  let next = k;
  while (next < tiles.n && labels[next] === 'parked' && tiles.t0[next] - tiles.t0[k] < TAKEOVER_S) next++;
  if (next >= tiles.n) return;
  if (labels[next] === 'driving') labels.fill('driving', k, next);
  else if (labels[next] === 'cranking') labels.fill('key-on', k, next);
}

/** From tile `last` back while the draw stays like that of an opened, switched-on vehicle. */
function labelKeyOn(tiles: Tiles, labels: Label[], last: number): void {
  if (last < 0 || labels[last] !== 'parked') return;
  let mostA = 0;
  for (let k = Math.max(0, last - 2); k <= last; k++) if (-tiles.i[k] > mostA) mostA = -tiles.i[k];
  if (mostA < KEY_ON_A) return;
  // Half of what glow plugs draw on top would be too much to ask of the seconds before them.
  const leastA = Math.max(KEY_ON_A, Math.min(KEY_ON_MOST_A, 0.5 * mostA));
  const end = tiles.t1[last];
  for (let k = last; k >= 0 && labels[k] === 'parked' && end - tiles.t1[k] < KEY_ON_LONGEST_S; k--) {
    if (k < last - 2 && !(-tiles.i[k] >= leastA)) break;
    labels[k] = 'key-on';
    if (!joined(tiles, k)) break;
  }
}
