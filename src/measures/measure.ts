/** Derived values, on demand and once: a measure is computed when it is first asked for and kept as long as its Analysis is. */
import type { Analysis } from '../analysis/model.ts';
import type { Session } from '../manifest/session.ts';

export interface Measure<T> {
  (analysis: Analysis, session: Session): T;
  /** States the value instead of computing it, for every session: for those who know better, such as tests. */
  readonly given: (analysis: Analysis, value: T) => void;
}

/** One analysis may be asked with several sessions (other limits): each has its own value. What throws is asked anew. */
export function measure<T>(compute: (analysis: Analysis, session: Session) => T): Measure<T> {
  const kept = new WeakMap<Analysis, WeakMap<Session, { readonly value: T }>>();
  const stated = new WeakMap<Analysis, { readonly value: T }>();
  function ask(analysis: Analysis, session: Session): T {
    const given = stated.get(analysis);
    if (given) return given.value;
    const own = kept.get(analysis) ?? new WeakMap<Session, { readonly value: T }>();
    const found = own.get(session) ?? { value: compute(analysis, session) };
    kept.set(analysis, own.set(session, found));
    return found.value;
  }
  return Object.assign(ask, { given: (analysis: Analysis, value: T) => void stated.set(analysis, { value }) });
}
