/**
 * Loads that come and go while nothing feeds the battery, seen in voltage and in current: both must show them. The ratio
 * is the resistance that the load works against; a step of voltage without one of current went round the sensor.
 */
import type { Session } from '../manifest/session.ts';
import type { Analysis, PeriodKind } from './analysis.ts';
import { joined } from './tiles.ts';
import { tilesIn } from './tiles-in.ts';

/** Voltage step that is worth looking at, V for 12 V, and how far it must stand out of the readings' own restlessness. */
const STEP_V = 0.08;
const OUT_OF_NOISE = 5;
/** Tiles longer than this mix too much into a step, s. */
const LONGEST_TILE_S = 12;
/** After charging or cranking the voltage falls for a while by itself, s. */
const RELAX_S = 120;
const RESTING: readonly PeriodKind[] = ['settling', 'asleep', 'awake', 'key-on'];
const DISTURBING: readonly PeriodKind[] = ['driving', 'cranking', 'on-charger', 'disconnected', 'no-data'];
/**
 * Highest resistance that a battery with its clamps can show and still be in use, Ω for 12 V and 70 Ah: about ten times
 * that of a sound one. Common practice, no source.
 */
const MOST_OHM = 0.05;

export interface LoadStep {
  readonly at: number;
  /** Changes, V and A, positive up and into the battery. */
  readonly volts: number;
  readonly amps: number;
  /** True where the current shows it too. */
  readonly matched: boolean;
}

/** Resistance that no battery in use exceeds, Ω: what turns a change of voltage into the least change of current. */
export function mostResistanceOhm({ vehicle, battery }: Session): number {
  return ((MOST_OHM * vehicle.systemV) / 12) * Math.max(1, 70 / (battery.capacityAh ?? 70));
}

/** Steps of voltage while parked, in order. The tile in the middle of a step holds part of both levels and is left out. */
export function findLoadSteps(analysis: Analysis, session: Session): LoadStep[] {
  const { tiles } = analysis;
  const mostOhm = mostResistanceOhm(session);
  const least = (STEP_V * session.vehicle.systemV) / 12;
  const steps: LoadStep[] = [];
  const usable = new Uint8Array(tiles.n);
  for (const k of tilesIn(analysis, RESTING)) usable[k] = tiles.t1[k] - tiles.t0[k] <= LONGEST_TILE_S ? 1 : 0;
  const quietFrom = relaxedFrom(analysis);
  let free = 0;
  for (let k = 1; k + 1 < tiles.n; k++) {
    if (k < free || !usable[k - 1] || !usable[k] || !usable[k + 1]) continue;
    if (!joined(tiles, k) || !joined(tiles, k + 1) || tiles.t0[k - 1] < quietFrom(tiles.t0[k - 1])) continue;
    const volts = tiles.v[k + 1] - tiles.v[k - 1];
    const amps = tiles.i[k + 1] - tiles.i[k - 1];
    const restless = Math.max(tiles.vRough[k - 1] || 0, tiles.vRough[k + 1] || 0);
    if (!(Math.abs(volts) >= least + OUT_OF_NOISE * restless) || Number.isNaN(amps)) continue;
    steps.push({ at: tiles.t0[k], volts, amps, matched: amps * Math.sign(volts) * mostOhm >= Math.abs(volts) });
    free = k + 3;
  }
  return steps;
}

/** For rising times: the moment from which the battery has settled after what last disturbed it. */
function relaxedFrom({ periods }: Analysis): (t: number) => number {
  let p = 0;
  let from = Number.NEGATIVE_INFINITY;
  return (t) => {
    for (; p < periods.length && periods[p].start <= t; p++)
      if (DISTURBING.includes(periods[p].kind)) from = periods[p].end + RELAX_S;
    return from;
  };
}
