/** Sums over the periods of a log. Times in s since the epoch. */
import type { Period, PeriodKind } from '../analysis/model.ts';

/** Seconds of the given kinds between two moments. */
export function secondsOf(periods: readonly Period[], kinds: readonly PeriodKind[], from: number, to: number): number {
  return total(periods, (period) =>
    kinds.includes(period.kind) ? Math.max(0, Math.min(to, period.end) - Math.max(from, period.start)) : 0,
  );
}

export function total<T>(items: readonly T[], amount: (item: T) => number): number {
  return items.reduce((sum, item) => sum + amount(item), 0);
}

/** The item with the largest measure; undefined for none. */
export function mostBy<T>(items: readonly T[], measure: (item: T) => number): T | undefined {
  return items.reduce<T | undefined>(
    (best, item) => (best === undefined || measure(item) > measure(best) ? item : best),
    undefined,
  );
}
