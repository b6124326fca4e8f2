/** How restless a stretch is: a running vehicle's consumers switch all the time, what sleeps or charges does not. */
import { median, quantile } from '../../battery/statistics.ts';
import type { Session } from '../../manifest/session.ts';
import type { TileSpan, Tiles } from '../tiles/tiles.ts';

/** No sensor is so noisy: readings that change by more from one to the next come from consumers, A. */
export const RESTLESS_A = 0.3;

/** Mean change from reading to reading: usual in a stretch, A and V. */
export interface Restlessness {
  readonly amps: number;
  readonly volts: number;
}

export function restlessness(tiles: Tiles, span: TileSpan): Restlessness {
  const of = (column: Float64Array) => median(known(column.subarray(span.first, span.last + 1)));
  return { amps: of(tiles.iRough), volts: of(tiles.vRough) };
}

/**
 * What the sensors' own noise makes of the quietest tenth of the log; in a log that is never quiet no more than what their
 * stated accuracy leaves room for.
 */
export function quietFloor(tiles: Tiles, { log }: Session): Restlessness {
  const of = (column: Float64Array, stated: number | undefined) =>
    Math.min(quantile(known(column.subarray(0, tiles.n)), 0.1), stated || Number.POSITIVE_INFINITY);
  const { current, voltage } = log.columns;
  return {
    amps: of(tiles.iRough, current?.accuracy?.absolute),
    volts: of(tiles.vRough, voltage?.accuracy?.absolute),
  };
}

function known(column: Float64Array): Float64Array {
  const found = new Float64Array(column.length);
  let n = 0;
  for (let k = 0; k < column.length; k++) if (!Number.isNaN(column[k])) found[n++] = column[k];
  return found.subarray(0, n);
}
