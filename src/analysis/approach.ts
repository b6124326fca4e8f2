/** What comes right after a stand. */
import type { Period, Span } from './model.ts';

/** A period that begins so soon after a stand follows it, s. */
const NEXT_S = 0.5;

/**
 * Charge out of what is told as key-on right behind a stand, Ah; 0 where nothing is. It may in part be the stand's own: no log
 * shows when the key was turned.
 */
export function approachAh(periods: readonly Period[], { end }: Span): number {
  return periods.find(({ kind, start }) => kind === 'key-on' && Math.abs(start - end) < NEXT_S)?.chargeOutAh ?? 0;
}
