/** What tells of the current sensor's zero: its readings while no current can flow, and a sleeping battery's voltage. */
import type { Analysis, Period, Span } from '../analysis/model.ts';
import { tilesIn } from '../analysis/tiles/tiles-in.ts';
import { mean } from '../battery/statistics.ts';
import { expand, widened } from '../battery/uncertainty.ts';
import type { Session } from '../manifest/session.ts';
import { measure } from './measure.ts';
import { measuredLevel } from './sensor.ts';
import { mostBy } from './spans.ts';
import { sleepers } from './stands.ts';

/** A disconnection shorter than this gives no dependable mean, s. */
const ENOUGH_OFF_S = 30;
/** Draws that agree this well are the same. Common practice, no source. */
const SAME_DRAW = 0.1;

export interface ZeroWhileOff {
  readonly off: Period;
  /** Mean reading, A, positive into the battery, and its expanded uncertainty. */
  readonly value: number;
  readonly U: number;
  readonly k: number;
  /** `lead`: the voltage lead alone may have come off, since the draw goes on as it was asleep. */
  readonly shows: 'nothing' | 'lead' | 'offset';
}

/** What the sensor reads in the longest disconnection from a parked vehicle; null where there is none to judge by. */
export const zeroWhileOff = measure((analysis, session): ZeroWhileOff | null => {
  const off = mostBy(
    analysis.periods.filter(
      (period, k) => period.kind === 'disconnected' && lengthS(period) >= ENOUGH_OFF_S && fromParked(analysis, k),
    ),
    lengthS,
  );
  const readings = off ? readingsIn(analysis, off) : [];
  if (!off || readings.length === 0) return null;
  const value = mean(readings);
  const scatterU = (analysis.noiseA ?? 0) / Math.sqrt(readings.length);
  const { u, k } = widened(measuredLevel(0, 'current', analysis, session), scatterU);
  const U = expand(u, k);
  if (Math.abs(value) <= U) return { off, value, U, k, shows: 'nothing' };
  const drawGoesOn = sleepers(analysis).some(
    ({ sleepDrawA }) => Math.abs(-value - sleepDrawA.value) <= SAME_DRAW * sleepDrawA.value + U,
  );
  return { off, value, U, k, shows: drawGoesOn ? 'lead' : 'offset' };
});

/** What the sensor is known to read of nothing, A, positive into the battery: as read with the battery off; 0 where it is right or not known. */
export function shiftedZeroA(analysis: Analysis, session: Session): number {
  const zero = zeroWhileOff(analysis, session);
  return zero?.shows === 'offset' ? zero.value : 0;
}

/** Rise of the voltage from the first quarter of a stand's sleep to its last, V; 0 where it never slept. */
export function asleepRiseV(analysis: Analysis, { start, end }: Span): number {
  const { tiles } = analysis;
  const volts = tilesIn(analysis, ['asleep'])
    .filter((k) => tiles.t0[k] >= start && tiles.t1[k] <= end && !Number.isNaN(tiles.v[k]))
    .map((k) => tiles.v[k]);
  const quarter = Math.ceil(volts.length / 4);
  return quarter > 0 ? mean(volts.slice(-quarter)) - mean(volts.slice(0, quarter)) : 0;
}

/** Means of the tiles of a period, without those at its ends, which hold some of what is next to it. */
function readingsIn(analysis: Analysis, { start, end }: Period): number[] {
  const { tiles } = analysis;
  const inside = tilesIn(analysis, ['disconnected']).filter((k) => tiles.t0[k] >= start && tiles.t1[k] <= end);
  return inside.slice(2, -2).flatMap((k) => (Number.isNaN(tiles.i[k]) ? [] : [tiles.i[k]]));
}

const lengthS = (period: Period) => period.end - period.start;

function fromParked({ periods }: Analysis, k: number): boolean {
  const before = periods[k - 1]?.kind ?? periods[k + 1]?.kind;
  return before === 'asleep' || before === 'awake' || before === 'settling';
}
