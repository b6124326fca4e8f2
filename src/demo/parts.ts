/** Usual parts to build scenarios from. Sizes are what such parts commonly show; no source. */
import type { CrankSpec, DriveSpec, Sensor, Source, Stage, WakeSource } from './scenario.ts';

/** A clamp-free shunt of good quality on the negative cable. */
export const GOOD_SENSOR: Sensor = {
  gain: 1.002,
  offsetA: 0.0006,
  driftA: 0.00001,
  noiseA: 0.002,
  resolutionA: 0.001,
  rangeA: 1000,
  reversed: false,
  bypass: 0,
  missesStarter: false,
  apertureS: 0.1,
  noiseV: 0.002,
  resolutionV: 0.001,
  resolutionC: 0.1,
  hasCurrent: true,
  hasTemperature: true,
};

/** A clamp: zero that drifts, coarse steps. */
export const POOR_SENSOR: Sensor = {
  ...GOOD_SENSOR,
  gain: 0.985,
  offsetA: 0.012,
  driftA: 0.0006,
  noiseA: 0.03,
  apertureS: 0.02,
  resolutionA: 0.01,
  noiseV: 0.008,
  resolutionV: 0.01,
};

/** Falls by 0.1 V for each 10 °C at 12 V (an engine maker's data). */
export function alternator(scale = 1): Source {
  return { volts: 14.3 * scale, maxA: 110, perC: -0.01 * scale, rippleV: 0.03 * scale, rippleA: 0.8, stepsA: 8 };
}

export function converter(): Source {
  return { volts: 14.1, maxA: 130, perC: -0.003, rippleV: 0.012, rippleA: 0.3, stepsA: 4 };
}

/** A four-cylinder diesel at 12 V, warm enough to start in about a second. */
export const DIESEL_CRANK: CrankSpec = {
  seconds: 1.1,
  lockedOhm: 0.009,
  turningOhm: 0.048,
  ripple: 0.18,
  rippleHz: 7,
  spinS: 0.09,
};

export const PETROL_CRANK: CrankSpec = {
  seconds: 0.75,
  lockedOhm: 0.014,
  turningOhm: 0.085,
  ripple: 0.15,
  rippleHz: 8.5,
  spinS: 0.07,
};

/** Shutting down: lights and fan, door opened and closed, locked, modules one after another. */
export const QUICK_SETTLING: readonly Stage[] = [
  { amps: 8.5, seconds: 25 },
  { amps: 5.2, seconds: 12 },
  { amps: 3.1, seconds: 180 },
  { amps: 1.4, seconds: 240 },
  { amps: 0.42, seconds: 470 },
];

/** The handle is touched or the remote pressed: lights, then modules going back to sleep. */
export const REMOTE_WAKE: readonly Stage[] = [
  { amps: 6.8, seconds: 4 },
  { amps: 4.1, seconds: 26 },
  { amps: 0.9, seconds: 90 },
];

export function remoteWakes(at: readonly number[]): WakeSource {
  return { timing: { at }, stages: REMOTE_WAKE };
}

/** A drive of a combustion vehicle; give what differs. */
export function drive(at: number, seconds: number, differs: Partial<DriveSpec> = {}): DriveSpec {
  return {
    at,
    seconds,
    unlockS: 24,
    unlockA: 5.2,
    keyOnS: 4,
    keyOnA: 9,
    cranks: [DIESEL_CRANK],
    runningA: 32,
    ...differs,
  };
}
