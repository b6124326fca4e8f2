/** Wall-clock times of a log to UTC, where a clock change makes some ambiguous and some impossible. */
import { lastOf } from '../../base/there.ts';
import type { Zone } from '../../base/zone.ts';

/** Within a span this long the zone's offset is asked for at both ends only: no zone changes twice in it. */
const SPAN_S = 6 * 3600;
const QUARTER_S = 900;

export interface LocalClock {
  /** Writes UTC over the first `n` wall-clock times, in the order of the rows. */
  toUtc(t: Float64Array, n: number, tell: TellTime): void;
}

/** `utc`: what was made of the time of `row`, s. */
export type TellTime = (kind: 'ambiguous-time' | 'impossible-time', row: number, utc: number) => void;

/**
 * Where a time stands for two instants, the rows' order decides: the earlier one that does not lie before the row
 * before. A time that the clock change skipped is read as if the clock had not been changed yet.
 */
export function createLocalClock(zone: Zone): LocalClock {
  /** The offset (local minus UTC) is `offset` for local times in [from, to). */
  let from = 0;
  let to = 0;
  let offset = 0;
  let last = Number.NEGATIVE_INFINITY;

  function offsetOf(local: number): number | undefined {
    const { candidates } = zone.localToUtc(local * 1000);
    const [only, other] = candidates;
    return only === undefined || other !== undefined ? undefined : local - only / 1000;
  }

  /** Takes the span around `local` if one offset holds all over it. */
  function learn(local: number, length: number): boolean {
    const start = Math.floor(local / length) * length;
    const here = offsetOf(start);
    if (here === undefined || here !== offsetOf(start + length - 1)) return false;
    [from, to, offset] = [start, start + length, here];
    return true;
  }

  /** Writes UTC over the times from `row` on that lie in the span; gives the first that does not. */
  function passPlain(t: Float64Array, row: number, n: number): number {
    // In variables of its own, which is much quicker than in those that outlive the call.
    const [begin, end, minus] = [from, to, offset];
    let k = row;
    for (; k < n && t[k] >= begin && t[k] < end; k++) t[k] -= minus;
    if (k > row) last = t[k - 1];
    return k;
  }

  function withCare(local: number, row: number, tell: TellTime): number {
    if (learn(local, SPAN_S) || learn(local, QUARTER_S)) return local - offset;
    const whole = Math.floor(local);
    const fraction = local - whole;
    const { candidates, shifted = whole * 1000 } = zone.localToUtc(whole * 1000);
    const instants = (candidates.length > 0 ? candidates : [shifted]).map((ms) => ms / 1000 + fraction);
    const utc = instants.find((instant) => instant >= last) ?? lastOf(instants);
    if (candidates.length !== 1) tell(candidates.length === 0 ? 'impossible-time' : 'ambiguous-time', row, utc);
    return utc;
  }

  return {
    toUtc(t, n, tell) {
      for (let row = 0; row < n; row++) {
        row = passPlain(t, row, n);
        if (row === n) return;
        last = withCare(t[row], row, tell);
        t[row] = last;
      }
    },
  };
}
