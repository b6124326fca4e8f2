/**
 * An equivalent-circuit battery: open-circuit voltage by charge, ohmic resistance, a fast and a slow polarisation, and
 * surface charge that charging builds up and that fades over hours. It is the simulator's own and shares no table with
 * the analysis, so that neither can flatter the other.
 */
import { type Chemistry, isLithium, perTwelveVolt, type SystemVoltage } from '../battery/chemistry.ts';

import type { BatterySpec } from './scenario.ts';

interface Cell {
  /** Volts of one cell at 0, 25, 50, 75 and 100 % (more points for lfp), at 25 °C. */
  readonly charge: readonly number[];
  readonly volts: readonly number[];
  /** Ohmic resistance of a 12 V battery of 70 Ah at 25 °C, Ω: what its cold-cranking rating implies, rounded. */
  readonly ohm: number;
  /** Resistance to charging, Ω for 12 V and 70 Ah, reached at 1 − charge = 1: sets how the current tapers. */
  readonly acceptOhm: number;
  /** Surface charge at most, V a cell. */
  readonly surfaceV: number;
  /** Share of charge lost a day at 25 °C. */
  readonly selfPerDay: number;
}

const QUARTERS = [0, 0.25, 0.5, 0.75, 1];
/** Density + 0.845 (DOE-HDBK-1084-95, p. 18) with densities of TM 5-3820-256-24-4, Table 2. */
const FLOODED = [1.965, 2.0, 2.035, 2.07, 2.11];
/** A 12 V AGM at about 11.8, 12.0, 12.3, 12.6, 12.85 V: from memory, weak. */
const VALVE_REGULATED = [1.967, 2.0, 2.05, 2.1, 2.142];

const CELLS: Record<Chemistry, Cell> = {
  flooded: { charge: QUARTERS, volts: FLOODED, ohm: 0.0035, acceptOhm: 0.012, surfaceV: 0.05, selfPerDay: 0.002 },
  efb: { charge: QUARTERS, volts: FLOODED, ohm: 0.003, acceptOhm: 0.009, surfaceV: 0.05, selfPerDay: 0.0015 },
  agm: { charge: QUARTERS, volts: VALVE_REGULATED, ohm: 0.0026, acceptOhm: 0.007, surfaceV: 0.035, selfPerDay: 0.0008 },
  gel: { charge: QUARTERS, volts: VALVE_REGULATED, ohm: 0.0034, acceptOhm: 0.011, surfaceV: 0.035, selfPerDay: 0.0008 },
  // Flat middle, steep ends: the usual shape, from memory.
  lfp: {
    charge: [0, 0.05, 0.1, 0.2, 0.5, 0.8, 0.95, 1],
    volts: [2.8, 3.05, 3.2, 3.25, 3.29, 3.325, 3.34, 3.4],
    ohm: 0.002,
    acceptOhm: 0.0012,
    surfaceV: 0.01,
    selfPerDay: 0.0005,
  },
  // Four cells, 3.0 V empty, 4.1 V full: the usual shape, from memory.
  nmc: {
    charge: [0, 0.05, 0.2, 0.5, 0.8, 1],
    volts: [3.0, 3.3, 3.5, 3.65, 3.9, 4.1],
    ohm: 0.002,
    acceptOhm: 0.0012,
    surfaceV: 0.01,
    selfPerDay: 0.0005,
  },
};

/** Cells in series: lead-acid 2 V, lfp 3.2 V. */
export function cellCount(chemistry: Chemistry, systemV: SystemVoltage): number {
  return isLithium(chemistry) ? Math.round(perTwelveVolt(systemV) * 4) : systemV / 2;
}

/** Open-circuit voltage of one cell, rested, at 25 °C; `charge` from 0 to 1, falling steeply below 0. */
export function cellVolts(chemistry: Chemistry, charge: number): number {
  const { charge: at, volts } = CELLS[chemistry];
  if (charge <= 0) return volts[0] + charge * 8;
  let k = 1;
  while (k < at.length - 1 && charge > at[k]) k++;
  return volts[k - 1] + ((volts[k] - volts[k - 1]) * (charge - at[k - 1])) / (at[k] - at[k - 1]);
}

/** Ohmic resistance of a sound battery of this kind and size, Ω, charged and at 25 °C. */
export function usualOhm({ chemistry, capacityAh }: BatterySpec, systemV: SystemVoltage): number {
  return CELLS[chemistry].ohm * sizeOf(capacityAh, systemV);
}

/** Share of the charge lost a day by standing, °C: doubles for each 10 °C (TM 9-6140-200-14, §4-8). */
export function selfLossPerDay(chemistry: Chemistry, tempC: number): number {
  return CELLS[chemistry].selfPerDay * 2 ** ((tempC - 25) / 10);
}

/** Resistance against that of 12 V and 70 Ah. */
const sizeOf = (capacityAh: number, systemV: SystemVoltage) => perTwelveVolt(systemV) * (70 / capacityAh);

/** Cold-cranking current, A, that a sound battery of this kind and size just gives: down to `volts` (of 12 V) after `seconds`, full, at −18 °C. */
export function coldCrankingA(
  spec: BatterySpec,
  systemV: SystemVoltage,
  end: { readonly volts: number; readonly seconds: number },
): number {
  const cells = cellCount(spec.chemistry, systemV);
  const openV = cells * (cellVolts(spec.chemistry, 1) + VOLTS_PER_C * (-18 - 25));
  const polarised = 1 + FAST_SHARE + SLOW_SHARE * (1 - Math.exp(-end.seconds / SLOW_S));
  const ohm = usualOhm(spec, systemV) * coldFactor(-18) * polarised;
  return (openV - end.volts * perTwelveVolt(systemV)) / ohm;
}

/** Everything thickens in the cold: about 1.7 times at −18 °C. */
const coldFactor = (temp: number) => Math.exp(-0.012 * (temp - 25));

/** Fast polarisation against the ohmic part, and its time constant. */
const FAST_SHARE = 0.35;
const FAST_S = 1.5;
const SLOW_SHARE = 1.2;
const SLOW_S = 500;
const SURFACE_FADE_S = 2.5 * 3600;
/** Share of what is charged that becomes usable. */
const EFFICIENCY = 0.97;
/** V/°C a cell (Bode; Linden: from memory). */
const VOLTS_PER_C = 0.0002;

export interface BatteryModel {
  /** 0 to 1, below 0 when driven flat. */
  charge(): number;
  /** Voltage behind the ohmic resistance: rest voltage with all polarisation, V. */
  emf(): number;
  ohm(): number;
  /** Extra resistance that only charging meets, Ω: grows as the battery fills. */
  acceptOhm(): number;
  fastOhm(): number;
  /** Moves on by `dt` s with `amps` into the battery at `tempC`. */
  step(dt: number, amps: number, tempC: number): void;
}

export function makeBattery(spec: BatterySpec, systemV: SystemVoltage, tempC: number): BatteryModel {
  const cell = CELLS[spec.chemistry];
  const cells = cellCount(spec.chemistry, systemV);
  const size = sizeOf(spec.capacityAh, systemV);
  const ohm25 = spec.resistanceOhm ?? usualOhm(spec, systemV);
  const capacityAs = spec.capacityAh * 3600;
  let charge = spec.charge;
  let fastV = 0;
  let slowV = 0;
  let surfaceV = 0;
  let restV = 0;
  let ohm = 0;
  let accept = 0;

  function settle(temp: number): void {
    restV = cells * (cellVolts(spec.chemistry, charge) + VOLTS_PER_C * (temp - 25));
    const empty = Math.min(1, Math.max(0, 1 - charge));
    // The acid thins as it empties.
    ohm = ohm25 * (1 + 0.6 * empty * empty) * coldFactor(temp);
    accept = (cell.acceptOhm * size * Math.exp(-0.02 * (temp - 25))) / (empty + 0.012);
  }
  settle(tempC);

  return {
    charge: () => charge,
    emf: () => restV + fastV + slowV + surfaceV,
    ohm: () => ohm,
    acceptOhm: () => accept,
    fastOhm: () => FAST_SHARE * ohm,
    step(dt, amps, temp) {
      // Implicit steps: stable however long dt is against the time constants.
      fastV += ((FAST_SHARE * ohm * amps - fastV) * dt) / (FAST_S + dt);
      slowV += ((SLOW_SHARE * ohm * amps - slowV) * dt) / (SLOW_S + dt);
      if (amps > 0) {
        const share = (amps * dt) / (0.02 * capacityAs);
        surfaceV += ((cells * cell.surfaceV - surfaceV) * share) / (1 + share);
        charge = Math.min(1, charge + (EFFICIENCY * amps * dt) / capacityAs);
      } else {
        charge += (amps * dt) / capacityAs;
        surfaceV /= 1 - (amps * dt) / (0.01 * capacityAs);
      }
      surfaceV *= SURFACE_FADE_S / (SURFACE_FADE_S + dt);
      charge -= (selfLossPerDay(spec.chemistry, temp) * dt) / 86400;
      settle(temp);
    },
  };
}
