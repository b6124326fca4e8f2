/** Standard uncertainties of what the analysis measures: stated accuracy, resolution and scatter (JCGM 100, from memory). */
import { type Accuracy, accuracyBounds, uncertaintyOf } from '../battery/uncertainty.ts';
import type { Session } from '../manifest/session.ts';
import type { Measured } from './model.ts';

export interface Sensors {
  readonly session: Session;
  /** Smallest step of each column, SI; 0 where unknown. */
  readonly resolution: { readonly v: number; readonly i: number };
}

export type Role = 'current' | 'voltage';

/**
 * Taken where the manifest states no accuracy, so that a verdict close to a limit stays open: 1 % + 5 mA and
 * 0.3 % + 10 mV. Common practice, no source.
 */
export const ASSUMED_ACCURACY: Readonly<Record<Role, Accuracy>> = {
  current: { relative: 0.01, absolute: 0.005 },
  voltage: { relative: 0.003, absolute: 0.01 },
};

/** As stated, else as assumed. */
export function accuracyOf(role: Role, { log }: Pick<Session, 'log'>): Accuracy {
  return log.columns[role]?.accuracy ?? ASSUMED_ACCURACY[role];
}

/** `scatterU`: standard uncertainty of the mean from scatter alone. */
export function measuredV(sensors: Sensors, value: number, scatterU: number): Measured {
  return measured(value, accuracyOf('voltage', sensors.session), sensors.resolution.v, scatterU);
}

export function measuredA(sensors: Sensors, value: number, scatterU: number): Measured {
  return measured(value, accuracyOf('current', sensors.session), sensors.resolution.i, scatterU);
}

function measured(value: number, accuracy: Accuracy, step: number, scatterU: number): Measured {
  return { value, ...uncertaintyOf([...accuracyBounds(accuracy, value), step / 2], scatterU) };
}

/** Of a resistance from changes of voltage and current: an offset is in both ends of a change and cancels; gain errors do not. */
export function measuredOhm(
  { session }: Sensors,
  { ohm, halfOhm, scatterU }: { readonly ohm: number; readonly halfOhm: number; readonly scatterU: number },
): Measured {
  const gains = (['current', 'voltage'] as const).map((role) => ohm * accuracyOf(role, session).relative);
  return { value: ohm, ...uncertaintyOf([...gains, halfOhm], scatterU) };
}

/** Half a step that a mean may be off: none where noise takes the readings over more than one. */
export const stepLeft = (step: number, noise: number) => (noise > step / 2 ? 0 : step / 2);
