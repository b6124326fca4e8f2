/** Limits and where they come from: the manifest first, then the check's own default. */
import type { LimitKey, Session } from '../manifest/session.ts';

export type Unit = 'A' | 'V' | 's' | 'Ah' | 'Ω' | '°C' | '1' | 'd';

export interface CheckLimit {
  readonly value: number;
  readonly unit: Unit;
  /** Printed next to the value. A trade habit without a source says "common practice, no source". */
  readonly source: string;
}

export interface DefaultLimit {
  readonly key: LimitKey | string;
  readonly value: number;
  readonly unit: Unit;
  readonly source: string;
  /** Said where the default depends on something ("at 20 °C, 12 V, flooded"). */
  readonly applies?: string;
}

/** The very words that stand beside a habit of the trade for which there is no source. */
export const NO_SOURCE = 'common practice, no source';

/**
 * The limit to judge by. One that the session has replaces the default and brings its own source; where a baseline was to
 * give one and could not, the default's source says why.
 */
export function limitOf(standard: DefaultLimit, session: Session): CheckLimit {
  const key = standard.key as LimitKey;
  const left = session.limitsFrom?.left?.[key];
  const { value, source } = session.limits[key] ?? {
    value: standard.value,
    source: left === undefined ? standard.source : `${standard.source}; ${left}`,
  };
  return { value, unit: standard.unit, source };
}
