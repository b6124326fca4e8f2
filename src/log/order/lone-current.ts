/**
 * A large current for one row or two that leaves no trace in the voltage is a wrong reading: no battery is so strong that
 * its voltage would not move. Only where rows follow each other quickly, since in a slow log one row is an event; and only
 * where the voltage has been seen to move from row to row, in steps fine enough to show such a current.
 */
import { perTwelveVolt } from '../../battery/chemistry.ts';
import type { Session } from '../../manifest/session.ts';
import type { SampleBlock } from '../block.ts';

/** How far a reading stands out of the rows on both sides to be looked at, A. Common practice, no source. */
const LONE_A = 100;
/** Of that: what the rows on both sides may differ by, and what may flow in them, which is much where a starter turns. */
const ALIKE = 0.1;
const QUIET = 0.25;
const MOST_ROWS = 2;
/** Between rows, s. */
const QUICK_S = 0.5;
/** Steps that differ by less are alike. */
const SAME_STEP = 1.5;
/**
 * Least resistance of a battery with its clamps, Ω for 12 V and 70 Ah: about half that of a sound one. Common practice,
 * no source.
 */
const LEAST_OHM = 0.002;
/** Less than this part of the move that it asks of the voltage is none. */
const TRACE = 0.25;

export interface LoneCurrentFilter {
  /**
   * Puts NaN in place of such readings of current among the first `block.n` rows. `ahead`: rows that the arrays hold in
   * all, so that what follows is seen.
   */
  clean(block: SampleBlock, ahead: number): void;
}

/** `tell` gets the row's time, s, and its current, A. */
export function createLoneCurrentFilter(
  { vehicle, battery }: Pick<Session, 'vehicle' | 'battery'>,
  tell: (t: number, amps: number) => void,
): LoneCurrentFilter {
  const traceOhm = TRACE * LEAST_OHM * perTwelveVolt(vehicle.systemV) * Math.min(1, 70 / (battery.capacityAh ?? 70));
  /** Shortest step between rows, s, at which the voltage is known to be read anew in each of them; null before any. */
  let liveStepS: number | null = null;
  /** The last row of the blocks before that was not taken out. */
  const last = { t: Number.NaN, v: Number.NaN, i: Number.NaN };

  /** How many rows from `row` on are wrong, after one that reads `before`. */
  function loneRows({ t, v, i }: SampleBlock, ahead: number, row: number, before: typeof last): number {
    let leastA = Number.POSITIVE_INFINITY;
    let low = before.v;
    let high = before.v;
    for (let rows = 1; rows <= MOST_ROWS && row + rows < ahead; rows++) {
      const back = row + rows;
      leastA = Math.min(leastA, Math.abs(i[back - 1] - before.i));
      low = Math.min(low, v[back - 1]);
      high = Math.max(high, v[back - 1]);
      if (!(Math.abs(i[back] - before.i) <= ALIKE * leastA)) continue;
      const stepS = (t[back] - before.t) / (rows + 1);
      const known = stepS <= QUICK_S && liveStepS !== null && liveStepS <= SAME_STEP * stepS;
      const moved = Math.max(high, v[back]) - Math.min(low, v[back]);
      const alone = leastA >= LONE_A && Math.abs(before.i) <= QUIET * leastA;
      return known && alone && moved < traceOhm * leastA ? rows : 0;
    }
    return 0;
  }

  return {
    clean(block, ahead) {
      const { t, v, i, n } = block;
      if (n === 0) return;
      const stepS = (t[n - 1] - t[0]) / n;
      if (stepS <= QUICK_S && (liveStepS === null || liveStepS > SAME_STEP * stepS)) {
        const foundS = findLiveStepS(block, traceOhm * LONE_A);
        if (foundS !== null) liveStepS = Math.min(liveStepS ?? foundS, foundS);
      }
      // The last row before `row` that was not taken out; -1 for one of the blocks before.
      let at = -1;
      for (let row = 0; row < n; row++) {
        const jump = nextJump(i, row, n, at < 0 ? last.i : i[at]);
        if (jump > row) at = jump - 1;
        if (jump === n) break;
        const lone = loneRows(block, ahead, jump, at < 0 ? last : { t: t[at], v: v[at], i: i[at] });
        const end = Math.min(n, jump + lone);
        for (row = jump; row < end; row++) {
          tell(t[row], i[row]);
          i[row] = Number.NaN;
        }
        if (row < n) at = row;
      }
      if (at < 0) return;
      last.t = t[at];
      last.v = v[at];
      last.i = i[at];
    },
  };
}

/** The first row from `row` on that differs by so much from the one before, which for `row` itself reads `before`; `n` without any. */
function nextJump(i: Float64Array, row: number, n: number, before: number): number {
  if (Math.abs(i[row] - before) >= LONE_A) return row;
  for (let k = row + 1; k < n; k++) if (Math.abs(i[k] - i[k - 1]) >= LONE_A) return k;
  return n;
}

/** Step of the first rows between which the voltage moves twice, by no more than `fineV`, s; null without any. */
function findLiveStepS({ t, v, n }: SampleBlock, fineV: number): number | null {
  const isFine = (row: number) => Math.abs(v[row] - v[row - 1]) <= fineV;
  for (let row = 2; row < n; row++) {
    if (v[row] === v[row - 1] || v[row - 1] === v[row - 2]) continue;
    const stepS = (t[row] - t[row - 2]) / 2;
    if (stepS <= QUICK_S && isFine(row) && isFine(row - 1)) return stepS;
  }
  return null;
}
