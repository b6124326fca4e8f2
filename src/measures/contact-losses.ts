/**
 * A contact between battery and starter that gives way under load: a key turned to start pulls the voltage far down with little
 * current, and minutes later, with nothing charged in between, the starter draws more and the voltage holds. No battery gets so
 * much better by itself, so what lost the volts lies before it: a clamp, a cable, a master switch. Limits: common practice, no source.
 */
import type { Crank, VehicleEvent } from '../analysis/model.ts';
import { tileAt } from '../analysis/tiles/tiles.ts';
import { perTwelveVolt } from '../battery/chemistry.ts';
import { measure } from './measure.ts';

/** The next attempt follows within this, s. */
const SOON_S = 600;
/** So much higher stays the voltage then, V for 12 V, while so many times as much is drawn. */
const HIGHER_V = 1.5;
const TIMES_DRAWN = 1.5;

export interface ContactLoss {
  /** What pulled the voltage down, and the start that did not. */
  readonly load: VehicleEvent;
  readonly start: Crank;
}

/** In order of time. */
export const contactLosses = measure((analysis, { vehicle }): readonly ContactLoss[] => {
  const { events, cranks, periods, tiles } = analysis;
  const higherV = HIGHER_V * perTwelveVolt(vehicle.systemV);
  return events.flatMap((load) => {
    const { start: from, seconds, meanA, voltsMin, kind } = load;
    if (kind === 'long-start' || meanA === null) return [];
    const over = from + seconds;
    const start = cranks.find(({ at, started }) => at >= over && at < over + SOON_S && started);
    if (!start || start.ampsPeak === null || start.ampsPeak < TIMES_DRAWN * meanA) return [];
    const isCharged = periods.some(
      (period) =>
        period.start < start.at && period.end > over && (period.kind === 'driving' || period.chargeInAh > 0.01),
    );
    // One wrong reading makes no low voltage.
    const meanV = tiles.v[tileAt(tiles, from + seconds / 2)] ?? Number.NaN;
    const isLow = voltsMin < start.voltsMin - higherV && meanV < start.voltsMin - higherV / 2;
    return isLow && !isCharged ? [{ load, start }] : [];
  });
});
