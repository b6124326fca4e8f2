/** Typical and range of things that happened several times. */
import { quantile } from '../../battery/statistics.ts';
import type { Spread } from './distribution.ts';

/** Null where there is no value; of few values the outer ones lie near the least and the most (Hyndman and Fan's type 7). */
export function spreadOf(values: readonly number[]): Spread | null {
  if (values.length === 0) return null;
  return { p05: quantile(values, 0.05), p50: quantile(values, 0.5), p95: quantile(values, 0.95) };
}
