/** What the sensors leave open: expanded uncertainties, also where the manifest states no accuracy. */
import type { Analysis, Measured } from '../analysis/model.ts';
import { measuredA, measuredV, type Role } from '../analysis/uncertain.ts';
import { type Accuracy, accuracyBounds, expand, type Uncertainty, uncertaintyOf } from '../battery/uncertainty.ts';
import type { Session } from '../manifest/session.ts';

export function accuracyStated(role: Role, session: Session): boolean {
  return session.log.columns[role]?.accuracy !== undefined;
}

/** Expanded uncertainty, about 95 %, in the value's unit. */
export function expandedU({ u, k }: Pick<Measured, 'u' | 'k'>): number {
  return expand(u, k);
}

/** A level of the log: accuracy and resolution, no scatter. */
export function measuredLevel(value: number, role: Role, analysis: Analysis, session: Session): Measured {
  const measured = role === 'voltage' ? measuredV : measuredA;
  return measured({ session, resolution: analysis.resolution }, value, 0);
}

/** Its expanded uncertainty, in the value's unit. */
export function levelU(value: number, role: Role, analysis: Analysis, session: Session): number {
  return expandedU(measuredLevel(value, role, analysis, session));
}

/** Taken where no accuracy of the temperature is stated: the sensor's own, and where it sits, °C. Common practice, no source. */
const ASSUMED_TEMPERATURE: Accuracy = { relative: 0, absolute: 2 };

export function temperatureUncertainty(valueC: number, session: Session): Uncertainty {
  const accuracy = session.log.columns.temperature?.accuracy ?? ASSUMED_TEMPERATURE;
  return uncertaintyOf(accuracyBounds(accuracy, valueC), 0);
}

/** Expanded uncertainty of a temperature, °C. */
export function temperatureU(valueC: number, session: Session): number {
  return expandedU(temperatureUncertainty(valueC, session));
}
