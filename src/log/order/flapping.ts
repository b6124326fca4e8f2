/**
 * A supply voltage that swings within two seconds between next to nothing and far too much is no voltage: the logger
 * itself was without power, or its lead hung loose. Seen on an engine controller whose key was off.
 */
import type { SampleBlock } from '../block.ts';

/** Parts of the system voltage. A crank stays above the first; 1.5 is what ISO 16750-2 asks of 12 V parts for an hour. */
const LOW = 0.5;
const HIGH = 1.5;
const WITHIN_S = 2;
/** After so many, no reading that high is believed any more: it is what this logger writes without power. */
const PROOF = 10;

export interface FlappingFilter {
  /**
   * Puts NaN in place of such readings among the first `block.n` rows. `ahead`: rows that the arrays hold in all, so
   * that what follows is seen.
   */
  clean(block: SampleBlock, ahead: number): void;
}

export function createFlappingFilter(systemV: number, tell: (t: number, volts: number) => void): FlappingFilter {
  const low = LOW * systemV;
  const high = HIGH * systemV;
  /** When it was last that low, or that high, s. */
  let lowAt = Number.NEGATIVE_INFINITY;
  let highAt = Number.NEGATIVE_INFINITY;
  let seen = 0;

  function follows(block: SampleBlock, row: number, ahead: number, is: (volts: number) => boolean): boolean {
    for (let k = row + 1; k < ahead && block.t[k] - block.t[row] <= WITHIN_S; k++) if (is(block.v[k])) return true;
    return false;
  }

  return {
    clean(block, ahead) {
      const { t, v, n } = block;
      for (let row = 0; row < n; row++) {
        const volts = v[row];
        if (!(volts < low || volts > high)) continue;
        const isLow = volts < low;
        const other = isLow ? highAt : lowAt;
        const flaps =
          t[row] - other <= WITHIN_S ||
          follows(block, row, ahead, isLow ? (next) => next > high : (next) => next < low);
        if (isLow) lowAt = t[row];
        else highAt = t[row];
        if (flaps) seen++;
        else if (isLow || seen < PROOF) continue;
        v[row] = Number.NaN;
        tell(t[row], volts);
      }
    },
  };
}
