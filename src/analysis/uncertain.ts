/** Standard uncertainties of what the analysis measures: stated accuracy, resolution and scatter (JCGM 100, from memory). */
import { type Accuracy, accuracyBounds, combine, coverageFactor, rectangular } from '../battery/uncertainty.ts';
import type { Session } from '../manifest/session.ts';
import type { Measured } from './model.ts';

export interface Sensors {
  readonly session: Session;
  /** Smallest step of each column, SI; 0 where unknown. */
  readonly resolution: { readonly v: number; readonly i: number };
}

/** `scatterU`: standard uncertainty of the mean from scatter alone. Where no accuracy is stated, none is added here. */
export function measuredV(sensors: Sensors, value: number, scatterU: number): Measured {
  return measured(value, sensors.session.log.columns.voltage.accuracy ?? NONE, sensors.resolution.v, scatterU);
}

export function measuredA(sensors: Sensors, value: number, scatterU: number): Measured {
  return measured(value, sensors.session.log.columns.current?.accuracy ?? NONE, sensors.resolution.i, scatterU);
}

function measured(value: number, accuracy: Accuracy, step: number, scatterU: number): Measured {
  const bounds = [...accuracyBounds(accuracy, value), step / 2];
  return { value, u: combine(...bounds.map(rectangular), scatterU), k: coverageFactor(bounds, scatterU) };
}

export const NONE = { relative: 0, absolute: 0 };
