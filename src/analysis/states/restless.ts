/** How restless a stretch is: a running vehicle's consumers switch all the time, what sleeps or charges does not. */
import { median, quantile } from '../../battery/statistics.ts';
import type { Tiles } from '../tiles/tiles.ts';

/** No sensor is so noisy: readings that change by more from one to the next come from consumers, A. */
export const RESTLESS_A = 0.3;

/** Tiles first to last, both included. */
export interface Span {
  first: number;
  last: number;
}

export type SpanKind = 'driving' | 'on-charger' | 'top-up';

export interface FedSpan extends Readonly<Span> {
  readonly kind: SpanKind;
}

/** Mean change from reading to reading: usual in a stretch, A and V. */
export interface Restlessness {
  readonly amps: number;
  readonly volts: number;
}

export function restlessness(tiles: Tiles, span: Span): Restlessness {
  const of = (column: Float64Array) => median(known(column.subarray(span.first, span.last + 1)));
  return { amps: of(tiles.iRough), volts: of(tiles.vRough) };
}

/** What the sensors' own noise makes of the quietest tenth of the log. */
export function quietFloor(tiles: Tiles): Restlessness {
  const of = (column: Float64Array) => quantile(known(column.subarray(0, tiles.n)), 0.1);
  return { amps: of(tiles.iRough), volts: of(tiles.vRough) };
}

const known = (column: Float64Array) => column.filter((x) => !Number.isNaN(x));

/** A running vehicle's consumers never rest; a charger's current does. */
export function isRestless(found: Restlessness, floor: Restlessness): boolean {
  if (Number.isNaN(found.amps)) return found.volts > Math.max(0.004, 4 * floor.volts);
  return found.amps > Math.max(0.02, Math.min(RESTLESS_A, 4 * floor.amps));
}
