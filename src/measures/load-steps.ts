/**
 * Loads that come and go while nothing feeds the battery, seen in voltage and in current: both must show them. The ratio
 * is the resistance that the load works against; a step of voltage without one of current went round the sensor.
 */

import type { Analysis, PeriodKind } from '../analysis/model.ts';
import { joined, type Tiles } from '../analysis/tiles/tiles.ts';
import { tilesIn } from '../analysis/tiles/tiles-in.ts';
import { perTwelveVolt } from '../battery/chemistry.ts';
import { fedFromV } from '../battery/fed-voltage.ts';
import { mean } from '../battery/statistics.ts';
import type { Session } from '../manifest/session.ts';
import { measure } from './measure.ts';

/** Steps that are worth looking at, V for 12 V, or A. */
const STEP_V = 0.02;
const STEP_A = 3;
/** How far the former must stand out of the readings' usual restlessness, and of their smallest step. */
const OUT_OF_NOISE = 8;
const NEAR = 10;
const OUT_OF_STEPS = 4;
/** Of a step, what the levels on both sides may move by. */
const LASTING = 0.5;
/** Tiles longer than this mix too much into a step, s. */
const LONGEST_TILE_S = 12;
/** Charging begins before it is sure to be charging; after it, and after cranking, the voltage moves by itself, s and tiles. */
const BEGIN_S = 30;
const RELAX_S = 60;
const RELAX_TILES = 30;
/** More than this into the battery is charging, A: a converter may do that while parked. */
const CHARGING_A = 0.3;
const RESTING: readonly PeriodKind[] = ['settling', 'asleep', 'awake', 'key-on'];
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
  /** True where the voltage moved enough to ask for a current. */
  readonly shown: boolean;
  /** True where the current is enough to explain the voltage, or the voltage too little to ask. */
  readonly matched: boolean;
}

/** Resistance that no battery in use exceeds, Ω: what turns a change of voltage into the least change of current. */
export function mostResistanceOhm({ vehicle, battery }: Session): number {
  return MOST_OHM * perTwelveVolt(vehicle.systemV) * Math.max(1, 70 / (battery.capacityAh ?? 70));
}

/** Steps while parked, in order. The tile in the middle of a step holds part of both levels and is left out. */
export const loadSteps = measure((analysis, session): LoadStep[] => {
  const { tiles, resolution } = analysis;
  const usable = usableTiles(analysis, session);
  const least = Math.max(STEP_V * perTwelveVolt(session.vehicle.systemV), OUT_OF_STEPS * resolution.v);
  const mostOhm = mostResistanceOhm(session);
  const steps: LoadStep[] = [];
  for (let k = 1; k + 1 < tiles.n; k++) {
    if (!usable[k - 1] || !usable[k] || !usable[k + 1] || !joined(tiles, k) || !joined(tiles, k + 1)) continue;
    const volts = tiles.v[k + 1] - tiles.v[k - 1];
    const amps = tiles.i[k + 1] - tiles.i[k - 1];
    if (Number.isNaN(volts) || Number.isNaN(amps)) continue;
    const shown =
      Math.abs(volts) >= least &&
      Math.abs(volts) >= OUT_OF_NOISE * roughnessAround(tiles, k) &&
      isStep(tiles, tiles.v, k);
    if (!shown && !(Math.abs(amps) >= STEP_A && isStep(tiles, tiles.i, k))) continue;
    const matched = !shown || amps * Math.sign(volts) * mostOhm >= Math.abs(volts);
    steps.push({ at: tiles.t0[k], volts, amps, shown, matched });
    k += 2;
  }
  return steps;
});

/** From one level to another around tile `k`: one wrong reading, there and back in two tiles at most, makes no load. */
function isStep(tiles: Tiles, column: Float64Array, k: number): boolean {
  const most = LASTING * Math.abs(column[k + 1] - column[k - 1]);
  const isLeft = (level: number, beyond: -1 | 1) => {
    for (let j = 1; j <= 2; j++) {
      if (!joined(tiles, beyond > 0 ? level + j : level - j + 1)) return false;
      if (Math.abs(column[level + j * beyond] - column[level]) > most) return true;
    }
    return false;
  };
  return !isLeft(k - 1, -1) && !isLeft(k + 1, 1);
}

/** Usual restlessness of the voltage in the tiles on both sides of a step, V; what runs on ripples where it does not rest. */
function roughnessAround(tiles: Tiles, k: number): number {
  const near = [
    ...tiles.vRough.subarray(Math.max(0, k - NEAR), k - 1),
    ...tiles.vRough.subarray(k + 2, Math.min(tiles.n, k + NEAR)),
  ];
  return mean(near.filter((rough) => !Number.isNaN(rough))) || 0;
}

/** 1 for each tile in which a parked battery is left to its loads: not charged, and settled after what disturbed it. */
function usableTiles(analysis: Analysis, session: Session): Uint8Array {
  const { tiles, periods } = analysis;
  const usable = new Uint8Array(tiles.n);
  const fedV = fedFromV(session.battery.chemistry, session.vehicle.systemV);
  // What went on before the log began is not known: its begin disturbs too.
  let disturbedUntil = analysis.start;
  let next = 0;
  const disturbing = periods.filter((period) => !RESTING.includes(period.kind));
  for (const k of tilesIn(analysis, RESTING)) {
    const lengthS = tiles.t1[k] - tiles.t0[k];
    for (; next < disturbing.length && disturbing[next].end <= tiles.t0[k]; next++)
      disturbedUntil = disturbing[next].end;
    if (tiles.i[k] > CHARGING_A || tiles.v[k] >= fedV) disturbedUntil = tiles.t1[k];
    const settled = tiles.t0[k] >= disturbedUntil + Math.max(RELAX_S, RELAX_TILES * lengthS);
    const ahead = next < disturbing.length && tiles.t1[k] > disturbing[next].start - BEGIN_S;
    usable[k] = settled && !ahead && lengthS <= LONGEST_TILE_S ? 1 : 0;
  }
  return usable;
}
