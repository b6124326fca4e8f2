/**
 * What happens to an invented vehicle while a logger is fitted. Times are seconds from the start of the log unless a
 * name says otherwise; currents of loads are draws (positive out of the battery).
 */

import type { Chemistry, SystemVoltage } from '../battery/chemistry.ts';
import type { CrankingStandard, Powertrain } from '../manifest/session.ts';

/** One step of a vehicle shutting down or waking: a draw above the sleeping level, for a time. */
export interface Stage {
  readonly amps: number;
  readonly seconds: number;
  /** The draw falls exponentially with this time constant instead of standing still (fan run-on, fading lights). */
  readonly tauS?: number;
}

export interface BatterySpec {
  readonly chemistry: Chemistry;
  readonly capacityAh: number;
  /** State of charge at the start, 0 to 1. */
  readonly charge: number;
  /** Ohmic resistance of the whole battery at 25 °C, charged; a usual value for its size if absent. */
  readonly resistanceOhm?: number;
  /** What its label says, if anything. */
  readonly rating?: { readonly coldCrankingA: number; readonly standard?: CrankingStandard };
}

export interface Climate {
  readonly meanC: number;
  /** Half of the day's span; warmest at 15:00 UTC. */
  readonly swingC: number;
  /** How much the running engine warms the battery in the end. */
  readonly engineC: number;
}

/** The starter as a resistance: `lockedOhm` when it begins to turn, `turningOhm` once it spins. */
export interface CrankSpec {
  readonly seconds: number;
  readonly lockedOhm: number;
  readonly turningOhm: number;
  /** Share by which each compression moves the current. */
  readonly ripple: number;
  readonly rippleHz: number;
  /** Time constant of the starter gaining speed: the inrush lasts about two of these. */
  readonly spinS: number;
}

export interface DriveSpec {
  /** Key-on. */
  readonly at: number;
  /** How long engine (or converter) runs; 0 where no crank started it. */
  readonly seconds: number;
  /** Unlocked, doors open, before the key is turned. */
  readonly unlockS: number;
  readonly unlockA: number;
  /** Key on before the (first) crank. */
  readonly keyOnS: number;
  readonly keyOnA: number;
  readonly glow?: { readonly amps: number; readonly seconds: number };
  /** Empty for vehicles without a starter. The last one starts the engine if `seconds` > 0. */
  readonly cranks: readonly CrankSpec[];
  /** Key on between failed cranks, and after the last failed one. */
  readonly betweenCranksS?: number;
  /** Consumers while running; the battery sees them only where the source cannot carry them. */
  readonly runningA: number;
  /** Regulated voltage at 20 °C; falls with temperature by the scenario's `source`. */
  readonly volts?: number;
  /** Phases in which the regulator is turned down on purpose, from the start of the drive. */
  readonly lowered?: readonly { readonly from: number; readonly to: number; readonly volts: number }[];
  /** Engine stopped at lights and restarted, from the start of the drive. */
  readonly stops?: readonly { readonly at: number; readonly seconds: number; readonly crank: CrankSpec }[];
  /** In place of the scenario's. */
  readonly settling?: readonly Stage[];
  /** A circuit that stays on after key-off and holds the vehicle awake: it shuts down only then. `channel`: index of the channel on it. */
  readonly held?: Stage & { readonly channel?: number };
}

/** When something happens while parked and asleep. */
export type Timing =
  | { readonly everyS: number; readonly jitterS: number }
  | { readonly meanEveryS: number }
  | { readonly at: readonly number[] };

export interface WakeSource {
  readonly timing: Timing;
  readonly stages: readonly Stage[];
  /** Spread of each wake's length, relative (standard deviation). */
  readonly spread?: number;
  /** Index of the channel whose circuit is on for the length of the wake. */
  readonly channel?: number;
  readonly from?: number;
  readonly to?: number;
}

export interface ChannelSpec {
  readonly label: string;
  /** `supply`: battery voltage less a little while on, near 0 while off. `drop`: voltage lost over `ohm`. */
  readonly measures: 'supply' | 'drop';
  readonly ohm?: number;
  readonly onWhileDriving?: boolean;
  /** On for this long after each key-off, whatever else goes on. */
  readonly afterRunS?: number;
  /** On at times that have nothing to do with any wake. */
  readonly decoy?: { readonly timing: Timing; readonly seconds: number };
}

export interface Source {
  readonly volts: number;
  readonly maxA: number;
  /** V/°C of battery temperature from 20 °C; negative. */
  readonly perC: number;
  /** Standard deviation of what ripple and consumers add to single readings. */
  readonly rippleV: number;
  readonly rippleA: number;
  /** Size of consumer steps that the source follows with a lag. */
  readonly stepsA: number;
}

export interface Sensor {
  readonly gain: number;
  readonly offsetA: number;
  /** Offset drift from 20 °C, A/°C. */
  readonly driftA: number;
  readonly noiseA: number;
  readonly resolutionA: number;
  readonly rangeA: number;
  readonly reversed: boolean;
  /** Share of the current that goes round the sensor. */
  readonly bypass: number;
  /** The starter is grounded at the battery, past the sensor. */
  readonly missesStarter: boolean;
  /** Each reading is the mean over this time before it: short pulses are smoothed, not caught or missed by luck. */
  readonly apertureS: number;
  readonly noiseV: number;
  /** Of voltage and temperature; none where left out. */
  readonly gainV?: number;
  readonly offsetV?: number;
  readonly offsetC?: number;
  readonly resolutionV: number;
  readonly resolutionC: number;
  readonly hasCurrent: boolean;
  readonly hasTemperature: boolean;
}

export interface Logging {
  readonly stepS: number;
  /** Faster around each crank (with a memory of what came before), slower while asleep. */
  readonly crank?: { readonly stepS: number; readonly beforeS: number; readonly afterS: number };
  readonly asleep?: { readonly stepS: number };
  readonly gaps?: readonly Stretch[];
}

export interface Stretch {
  readonly from: number;
  readonly to: number;
}

export interface Scenario {
  readonly stream: number;
  /** s since 1970-01-01T00:00:00Z. */
  readonly start: number;
  readonly seconds: number;
  readonly powertrain: Powertrain;
  readonly systemV: SystemVoltage;
  readonly battery: BatterySpec;
  readonly climate: Climate;
  readonly sleepA: number;
  /** Alarm lamp: short pulses while parked, on top of `sleepA`. */
  readonly lamp?: { readonly amps: number; readonly onS: number; readonly everyS: number };
  readonly settling: readonly Stage[];
  /** What is still going on when the log begins: bonnet and doors open, the technician at work. */
  readonly fitting?: readonly Stage[];
  readonly drives: readonly DriveSpec[];
  readonly source: Source;
  readonly wakes: readonly WakeSource[];
  /** Draw that comes and goes: part of the sleeping level, or keeping the vehicle awake. `unseen`: its current goes round the sensor. */
  readonly extra?: readonly (Stretch & { readonly amps: number; readonly awake: boolean; readonly unseen?: boolean })[];
  /** A DC–DC converter charging while parked; the vehicle is awake meanwhile. */
  readonly topUps?: readonly (Stretch & { readonly volts: number; readonly maxA: number; readonly amps: number })[];
  /** Shop charger or memory saver. */
  readonly chargers?: readonly (Stretch & { readonly volts: number; readonly maxA: number })[];
  /** Battery off: the logger reads about 0 V; afterwards the modules boot with `boot`. */
  readonly disconnected?: readonly (Stretch & { readonly boot: readonly Stage[] })[];
  readonly channels: readonly ChannelSpec[];
  readonly sensor: Sensor;
  readonly logging: Logging;
}
