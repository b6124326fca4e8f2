/** Where a check's limit comes from: the manifest first, then the check's own default. */
import type { LimitKey, Session } from '../manifest/session.ts';
import type { CheckLimit, DefaultLimit } from './check.ts';

/** The very words that stand beside a habit of the trade for which there is no source. */
export const NO_SOURCE = 'common practice, no source';

/** The limit to judge by. One that the manifest sets replaces the default and brings its own source. */
export function limitOf(standard: DefaultLimit, session: Session): CheckLimit {
  const set = session.limits[standard.key as LimitKey];
  return { value: set?.value ?? standard.value, unit: standard.unit, source: set?.source ?? standard.source };
}
