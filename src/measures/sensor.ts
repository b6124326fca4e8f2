/** What the sensors leave open: expanded uncertainties, also where the manifest states no accuracy. */
import type { Analysis, Measured } from '../analysis/model.ts';
import { measuredA, measuredV } from '../analysis/uncertain.ts';
import { accuracyU, combine, expand } from '../battery/uncertainty.ts';
import type { Accuracy, Session } from '../manifest/session.ts';

export type Role = 'current' | 'voltage';

/**
 * Taken where the manifest states no accuracy, so that a verdict close to a limit stays open: 1 % + 5 mA and
 * 0.3 % + 10 mV. Common practice, no source.
 */
export const ASSUMED_ACCURACY: Readonly<Record<Role, Accuracy>> = {
  current: { relative: 0.01, absolute: 0.005 },
  voltage: { relative: 0.003, absolute: 0.01 },
};

export function accuracyStated(role: Role, session: Session): boolean {
  return session.log.columns[role]?.accuracy !== undefined;
}

/**
 * Standard uncertainty in the value's unit. The analysis has the stated accuracy, the resolution and the scatter in `u`;
 * where no accuracy was stated the assumed one is added here.
 */
export function standardU(measured: Measured, role: Role, session: Session): number {
  if (accuracyStated(role, session)) return measured.u;
  return combine(measured.u, accuracyU(ASSUMED_ACCURACY[role], measured.value));
}

/** Expanded uncertainty, about 95 %, in the value's unit. */
export function expandedU(measured: Measured, role: Role, session: Session): number {
  return expand(standardU(measured, role, session), accuracyStated(role, session) ? measured.k : 2);
}

/** Expanded uncertainty of a level of the log, in the value's unit: accuracy and resolution, no scatter. */
export function levelU(value: number, role: Role, analysis: Analysis, session: Session): number {
  const measured = role === 'voltage' ? measuredV : measuredA;
  return expandedU(measured({ session, resolution: analysis.resolution }, value, 0), role, session);
}

/** Taken where no accuracy of the temperature is stated: the sensor's own, and where it sits, °C. Common practice, no source. */
const ASSUMED_TEMPERATURE: Accuracy = { relative: 0, absolute: 2 };

/** Expanded uncertainty of a temperature, °C. */
export function temperatureU(valueC: number, session: Session): number {
  return expand(accuracyU(session.log.columns.temperature?.accuracy ?? ASSUMED_TEMPERATURE, valueC));
}
