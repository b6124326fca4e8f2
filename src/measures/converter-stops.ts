/**
 * Drives in which a DC–DC converter stops for minutes and the battery carries the vehicle. An engine's regulator may let the voltage
 * sink on purpose; a converter has nothing to save by it while amperes flow out. All figures here are common practice, no source.
 */
import { tilesWithin } from '../analysis/tiles/tiles-in.ts';
import { restVoltageV } from '../battery/rest-voltage.ts';
import { decide } from '../battery/uncertainty.ts';
import { judgedDrives } from './drives.ts';
import { measure } from './measure.ts';
import { expandedU } from './sensor.ts';
import { mostBy } from './spans.ts';

/** A start of the vehicle may take so long, s; a stop lasts at least so long, s. */
const BEGIN_S = 30;
const STOP_S = 120;
/** What a vehicle draws that runs, A. */
const LEAST_A = 3;
/** In fewer drives, or in less than half of them, it may be chance. */
const LEAST_DRIVES = 2;

export interface ConverterStops {
  readonly stopDrives: number;
  readonly stopSeen: number;
  /** Of the longest: its begin, length and mean current. */
  readonly stopT: number;
  readonly stopS: number;
  readonly stopA: number;
  /** What a full one of its kind gives by itself, V. */
  readonly itselfV: number;
}

/** Null where there is no converter, and where it is not so in at least half of the drives. */
export const converterStops = measure((analysis, session): ConverterStops | null => {
  if (session.vehicle.powertrain === 'combustion' || !analysis.has.current) return null;
  const { tiles } = analysis;
  const itselfV = restVoltageV(session.battery.chemistry, session.vehicle.systemV, 1);
  const drives = judgedDrives(analysis, session);
  const stops = drives.flatMap(({ drive, high, window }) => {
    // Else it never charges, which is told as such.
    if (decide({ value: high.value, U: expandedU(high), limit: window.minV, side: 'min' }) !== 'within') return [];
    let longest = { start: 0, seconds: 0, netAs: 0 };
    let run = longest;
    for (const k of tilesWithin(tiles, { start: drive.start + BEGIN_S, end: drive.end })) {
      const seconds = (tiles.t1[k] ?? 0) - (tiles.t0[k] ?? 0);
      const isDrained = (tiles.v[k] ?? Number.NaN) < itselfV && (tiles.i[k] ?? Number.NaN) < -LEAST_A;
      const begun = run.seconds > 0 ? run : { start: tiles.t0[k] ?? 0, seconds: 0, netAs: 0 };
      run = isDrained
        ? { ...begun, seconds: begun.seconds + seconds, netAs: begun.netAs + (tiles.netAs[k] ?? 0) }
        : { start: 0, seconds: 0, netAs: 0 };
      if (run.seconds > longest.seconds) longest = run;
    }
    return longest.seconds >= STOP_S ? [longest] : [];
  });
  const worst = mostBy(stops, ({ seconds }) => seconds);
  if (!worst || stops.length < LEAST_DRIVES || stops.length < drives.length / 2) return null;
  const { start, seconds, netAs } = worst;
  return {
    stopDrives: stops.length,
    stopSeen: drives.length,
    stopT: start,
    stopS: seconds,
    stopA: netAs / seconds,
    itselfV,
  };
});
