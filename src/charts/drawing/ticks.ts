/** Values on an axis, and what is written at each. */
import { lastOf, there } from '../../base/there.ts';

export interface Ticks {
  readonly values: readonly number[];
  readonly labels: readonly string[];
}

/** Round values for an axis. */
export interface NiceTicks {
  readonly values: readonly number[];
  /** From the first to the last round value, holding everything. */
  readonly domain: readonly [number, number];
}

/** Multiples of 1, 2 or 5 times a power of ten that reach from `low` to `high`, in about `count` steps. */
export function niceTicks(low: number, high: number, count: number): NiceTicks {
  const span = high - low || Math.max(Math.abs(high), 1);
  const power = 10 ** Math.floor(Math.log10(span / count));
  const step = ([1, 2, 5].find((factor) => span / (factor * power) <= count) ?? 10) * power;
  const first = Math.floor(low / step + 1e-9);
  const last = Math.max(Math.ceil(high / step - 1e-9), first + 1);
  const values = Array.from({ length: last - first + 1 }, (_, k) => Number(((first + k) * step).toPrecision(12)));
  return { values, domain: [there(values[0]), lastOf(values)] };
}
