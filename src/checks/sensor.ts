/** What the sensors leave open: expanded uncertainties, also where the manifest states no accuracy. */
import type { Measured } from '../analysis/analysis.ts';
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

/** Expanded uncertainty, k = 2, in the value's unit. */
export function expandedU(measured: Measured, role: Role, session: Session): number {
  return expand(standardU(measured, role, session));
}
