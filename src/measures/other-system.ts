/** The system that a log's voltage suits, where it does not suit the declared one. */
import type { SystemVoltage } from '../battery/chemistry.ts';
import { weightedQuantile } from '../battery/statistics.ts';
import { measure } from './measure.ts';
import { mostBy } from './spans.ts';

/** Beyond this part of the declared system's voltage no battery of it gets; below that one none of it stays all the time. */
const TOO_HIGH = 5 / 3;
const TOO_LOW = 0.66;

export interface OtherSystem {
  /** What half of the time lies below. */
  readonly usualV: number;
  readonly suitsV: SystemVoltage;
  readonly tooHigh: boolean;
}

/** Null where the voltage suits the declared system. */
export const otherSystem = measure(({ tiles }, session): OtherSystem | null => {
  const { systemV } = session.vehicle;
  const [volts, seconds] = [
    tiles.v.subarray(0, tiles.n),
    tiles.t1.subarray(0, tiles.n).map((end, k) => end - tiles.t0[k]),
  ];
  // Added up before anything is put in order: nearly every log suits its system.
  const secondsWhere = (holds: (volts: number) => boolean) =>
    seconds.reduce((sum, lasted, k) => sum + (holds(volts[k]) ? lasted : 0), 0);
  const knownS = secondsWhere((v) => !Number.isNaN(v));
  const tooHigh = secondsWhere((v) => v > TOO_HIGH * systemV) > 0.5 * knownS;
  if (!tooHigh && !(secondsWhere((v) => v < TOO_LOW * systemV) > 0.99 * knownS)) return null;
  const usualV = weightedQuantile(volts, seconds, 0.5);
  const suitsV = mostBy([6, 12, 24] as const, (volts) => -Math.abs(Math.log(usualV / volts))) ?? systemV;
  return suitsV === systemV ? null : { usualV, suitsV, tooHigh };
});
