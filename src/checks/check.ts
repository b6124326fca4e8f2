/** What a check is, and what it answers. Prose lives in `content/<language>/checks/<id>.md`, never here. */
import type { Analysis } from '../analysis/model.ts';
import type { Session } from '../manifest/session.ts';
import type { CheckLimit, DefaultLimit, Unit } from '../measures/limit.ts';

export type Status = 'fault' | 'watch' | 'clear' | 'undecided';

/** Values that the prose may use; names carry the unit (`drawA`, `settleS`, `startT` for a time, `stands` for a count). */
export type Facts = Readonly<Record<string, number | string | boolean | null>>;

/** The session at large, or a view of one span of it; names are chart ids, see `src/charts/`. */
export interface Evidence {
  readonly chart: string;
  readonly from: number;
  readonly to: number;
}

export interface Answer {
  readonly status: Status;
  /** Chooses a section of the prose below the status, such as `fault: never-asleep`; absent: the plain section. */
  readonly variant?: string;
  /** `uncertainty` is expanded, k = 2, same unit; null where it cannot be given. */
  readonly measured?: { readonly value: number; readonly unit: Unit; readonly uncertainty: number | null };
  readonly limit?: CheckLimit;
  /** Key of the reason in the prose ("## reasons"); must be there when, and only when, `undecided`. */
  readonly reason?: string;
  readonly facts?: Facts;
  readonly evidence?: readonly Evidence[];
  /** Check id that this one follows from: it then ranks below it. */
  readonly follows?: string;
}

export interface Check {
  /** A noun; equals the file's name and its prose's. */
  readonly id: string;
  /** Columns it cannot do without; the runner answers `undecided` with reason `no-current` (…) where one is missing. */
  readonly needs: readonly ('current' | 'temperature' | 'channels')[];
  readonly limits: readonly DefaultLimit[];
  /** Keys of the reasons that it may give for `undecided`, each with prose; those of the runner are understood. */
  readonly reasons: readonly string[];
  /** Cautions (ids in `content/<language>/cautions.md`) for statuses other than clear. */
  readonly cautions: readonly string[];
  answer(analysis: Analysis, session: Session): Answer;
}

export interface Finding extends Answer {
  readonly check: string;
  readonly cautions: readonly string[];
}
