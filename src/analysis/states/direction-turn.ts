/**
 * A sensor that was taken off and fitted the other way round while the log ran: every witness before speaks one way, every one after it the
 * other. Where both halves are proven, the one that speaks against the manifest is put right, as a whole log is.
 */
import type { Span } from '../model.ts';
import type { Tiles } from '../tiles/tiles.ts';
import { type Sign, weigh } from './direction-signs.ts';

/** Independent signs that each half must have, a crank among them. Common practice, no source. */
const LEAST_SIGNS = 2;

/** @returns when the current has the other sign than the manifest says; null where that is not proven. */
export function findTurn(tiles: Tiles, signs: readonly Sign[]): Span | null {
  const split = bestSplit(signs);
  const [before, after] = [signs.slice(0, split), signs.slice(split)];
  const [first, second] = [weigh(before), weigh(after)];
  const isFirst = first.against > first.agree;
  const [wrong, right] = isFirst ? [first, second] : [second, first];
  const isProven =
    wrong.against >= LEAST_SIGNS && wrong.agree === 0 && right.agree >= LEAST_SIGNS && right.against === 0;
  const isCrank = ({ what }: Sign) => what === 'crank';
  const [last, next] = [before.findLast(isCrank), after.find(isCrank)];
  if (!isProven || !last || !next || tiles.n === 0) return null;
  const at = turnBetween(tiles, last.t, next.t, isFirst);
  const [start, end] = [tiles.t0[0] ?? at, tiles.t1[tiles.n - 1] ?? at];
  return isFirst ? { start, end: at } : { start: at, end };
}

/** Number of signs before the place that best parts those that agree from those that do not: there their running sum is farthest from a steady one. */
function bestSplit(signs: readonly Sign[]): number {
  const total = signs.reduce((sum, { agrees }) => sum + (agrees ? 1 : -1), 0);
  let sum = 0;
  let best = { at: 0, off: 0 };
  for (const [k, { agrees }] of signs.entries()) {
    sum += agrees ? 1 : -1;
    const off = Math.abs(sum - (total * (k + 1)) / signs.length);
    if (off > best.off) best = { at: k + 1, off };
  }
  return best.at;
}

/** A battery gives for most of the time between two starts: the moment between them before which most of the time has one sign of current, and after which the other. */
function turnBetween(tiles: Tiles, from: number, to: number, isFirst: boolean): number {
  let sum = 0;
  let best = { at: to, most: Number.NEGATIVE_INFINITY };
  for (let k = 0; k < tiles.n; k++) {
    if (tiles.t0[k] < from || tiles.t1[k] > to) continue;
    sum += (Math.sign(tiles.i[k]) || 0) * (tiles.t1[k] - tiles.t0[k]) * (isFirst ? 1 : -1);
    if (sum > best.most) best = { at: tiles.t1[k], most: sum };
  }
  return best.at;
}
