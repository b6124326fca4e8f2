/** What each drive shows: how far the voltage was brought up, and what came back. */
import { mean, weightedQuantile } from '../battery/statistics.ts';
import type { Drive, PeriodKind } from './model.ts';
import { chargeOf } from './states/periods.ts';
import type { Tiles } from './tiles/tiles.ts';
import { measuredV, type Sensors } from './uncertain.ts';

/** After a start the voltage climbs for a while, s. */
const CLIMB_S = 120;

export function findDrives(tiles: Tiles, kinds: readonly PeriodKind[], sensors: Sensors): Drive[] {
  const drives: Drive[] = [];
  for (let k = 0; k < tiles.n; k++) {
    if (kinds[k] !== 'driving') continue;
    const first = k;
    // A crank within the drive (engine stopped at lights) and a short hole do not end it.
    while (k + 1 < tiles.n && goesOn(tiles, kinds, k + 1)) k++;
    drives.push(describeDrive(tiles, kinds, first, k, sensors));
  }
  return drives;
}

function goesOn(tiles: Tiles, kinds: readonly PeriodKind[], k: number): boolean {
  if (tiles.t0[k] - tiles.t1[k - 1] > 60) return false;
  return kinds[k] === 'driving' || kinds[k] === 'cranking';
}

function describeDrive(
  tiles: Tiles,
  kinds: readonly PeriodKind[],
  first: number,
  last: number,
  sensors: Sensors,
): Drive {
  while (last > first && kinds[last] !== 'driving') last--;
  const start = tiles.t0[first];
  const all = { volts: [] as number[], seconds: [] as number[] };
  const warm = { volts: [] as number[], seconds: [] as number[] };
  const temps: number[] = [];
  let net = 0;
  let covered = 0;
  for (let k = first; k <= last; k++) {
    const seconds = tiles.t1[k] - tiles.t0[k];
    for (const part of tiles.t0[k] >= start + CLIMB_S ? [all, warm] : [all]) {
      part.volts.push(tiles.v[k]);
      part.seconds.push(seconds);
    }
    if (!Number.isNaN(tiles.temp[k])) temps.push(tiles.temp[k]);
    net += tiles.netAs[k];
    covered += tiles.iCov[k];
  }
  const at = (p: number) =>
    warm.volts.length ? measuredV(sensors, weightedQuantile(warm.volts, warm.seconds, p), 0) : null;
  const { volts, seconds } = warm.volts.length ? warm : all;
  return {
    start,
    end: tiles.t1[last],
    voltsMedian: weightedQuantile(volts, seconds, 0.5),
    ...chargeOf(tiles, first, last, 0),
    voltsHigh: at(0.95),
    voltsLow: at(0.05),
    temperatureC: temps.length ? mean(temps) : null,
    meanA: covered > 0 ? net / covered : null,
  };
}
