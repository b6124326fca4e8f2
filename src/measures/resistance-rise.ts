/** Whether resistance rose during the log: cranks of the second half against those of the first, put to one temperature. */
import type { Measured } from '../analysis/model.ts';
import { median, robustSd } from '../battery/statistics.ts';
import { combine, rectangular } from '../battery/uncertainty.ts';

import type { MeasuredCrank } from './starter.ts';

/** A lead-acid battery's resistance falls by this share for each °C, known to half of itself. From memory, weak. */
const PER_C = 0.012;
/** Where no temperature was logged it may have changed by this between the halves, °C (ours). */
const UNSEEN_CHANGE_C = 20;
const LEAST_CRANKS = 6;

/** Rise from the first half of the cranks to the second, as a share of the first; null for too few. */
export function resistanceRise(cranks: readonly MeasuredCrank[]): Measured | null {
  if (cranks.length < LEAST_CRANKS) return null;
  const half = cranks.length >> 1;
  const early = middleOf(cranks.slice(0, half));
  const late = middleOf(cranks.slice(-half));
  const warmerC =
    early.temperatureC === null || late.temperatureC === null ? null : late.temperatureC - early.temperatureC;
  const ratio = (late.ohm / early.ohm) * Math.exp(PER_C * (warmerC ?? 0));
  const unknownC = warmerC === null ? UNSEEN_CHANGE_C : warmerC / 2;
  return { value: ratio - 1, u: ratio * combine(early.u, late.u, rectangular(PER_C * unknownC)) };
}

/** `u`: of the middle, relative. */
function middleOf(cranks: readonly MeasuredCrank[]) {
  const ohms = cranks.map((crank) => crank.resistanceOhm.value);
  const ohm = median(ohms);
  const temperatures = cranks.flatMap(({ temperatureC }) => (temperatureC === null ? [] : [temperatureC]));
  return {
    ohm,
    u: (1.25 * robustSd(ohms)) / Math.sqrt(ohms.length) / ohm,
    temperatureC: temperatures.length > 0 ? median(temperatures) : null,
  };
}
