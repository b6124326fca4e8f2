/** What a check is, and what it answers. Prose lives in `content/<language>/checks/<id>.md`, never here. */
import type { Analysis, PeriodKind } from '../analysis/model.ts';
import type { LimitKey, Session } from '../manifest/session.ts';
import type { CheckLimit, DefaultLimit, Unit } from '../measures/limit.ts';

export type Status = 'fault' | 'watch' | 'clear' | 'undecided';

/**
 * Values that the prose may use; names carry the unit (`drawA`, `settleS`, `startT` for a time, `stands` for a count). Each check
 * has a type of its own for them, `Facts` in its file, which its prose is held against.
 */
export type AnyFacts = Readonly<Record<string, number | string | boolean | null | undefined>>;

/** The session at large, or a view of one span of it; names are chart ids, see `src/charts/`. */
export interface Evidence {
  readonly chart: string;
  readonly from: number;
  readonly to: number;
}

interface Judged {
  /** Chooses a section of the prose below the status, such as `fault: never-asleep`; absent: the plain section. */
  readonly variant?: string;
  /** `uncertainty` is expanded, k = 2, same unit; null where it cannot be given. */
  readonly measured?: {
    readonly value: number;
    readonly unit: Unit;
    readonly uncertainty: number | null;
    /** Coverage factor of the uncertainty; 2 where left out. */
    readonly coverage?: number;
  };
  readonly limit?: CheckLimit;
  readonly evidence?: readonly Evidence[];
  /** Check id that this one follows from: it then ranks below it. */
  readonly follows?: string;
}

/** Where nothing is decided any fact may be lacking. `reason`: key of the reason in the prose ("## reasons"). */
export type Answer<F extends AnyFacts = AnyFacts> = Judged &
  (
    | { readonly status: Exclude<Status, 'undecided'>; readonly facts: F; readonly reason?: undefined }
    | { readonly status: 'undecided'; readonly facts?: Partial<F>; readonly reason: string }
  );

/** A figure that is put beside that of another session: in a comparison, and over the life of a vehicle. */
export interface Compared {
  /** Its name in `comparison.json`. Checks that name the same one judge it together, the worst answer counts. */
  readonly name: string;
  /** `1/d`: events a day, `Ah/d`: charge a day. */
  readonly unit: Unit | '1/d' | 'Ah/d';
  /** Which way the value must go to be an improvement. */
  readonly better: 'lower' | 'higher';
  /** True where the limit is one for the vehicle, so that two sessions must have been judged by the same. */
  readonly oneLimit: boolean;
  /** Stands on the page of its vehicle, session by session. */
  readonly followed?: true;
}

/** Judged by two checks: the draw asleep, and what wakes make of it. */
export const MEAN_PARKED_DRAW: Compared = { name: 'mean-parked-draw', unit: 'A', better: 'lower', oneLimit: true };

/** A limit that a healthy session gives to others of its model, see `archive/baseline.ts`. Checks that give the same one are judged together. */
export interface Given {
  readonly key: LimitKey;
  /** Name of the compared figure that it is taken from; the check's own value where not said. */
  readonly from?: string;
  /** What the next vehicle may differ by at least, in the limit's unit; volts for 12 V. */
  readonly margin: number;
  /** True of a voltage while cranking, which is judged by the battery's temperature. */
  readonly fallsWithCold?: true;
}

/** What a finding doubts of others. `current`: every reading of it; `small-current`: those of a parked vehicle; else the checks named. */
export type Doubt = 'all' | 'current' | 'small-current' | readonly string[];

/** A finding as far as its weight beside others goes. */
export interface Weighed {
  readonly status: Status;
  readonly measured?: { readonly value: number } | null;
}

/** Everything that is known of a check; nothing is said of one anywhere else but in its prose. */
export interface Check<F extends AnyFacts = AnyFacts> {
  /** A noun; equals the file's name and its prose's. */
  readonly id: string;
  /** The vehicle; or the log, and how far it can be trusted. */
  readonly about: 'vehicle' | 'log';
  /** A main question: without an answer to it there is no all-clear. */
  readonly core?: true;
  /** Named among what was seen or left open, though it is no main question: a clear answer to it is worth saying by itself. */
  readonly named?: true;
  /** False of a check of the log whose findings nobody can mend while the vehicle is still there. */
  readonly mendable?: false;
  /** What its limit is to a sound value: the most or the least; null where it only parts two kinds of answer, or where there is none. */
  readonly side: 'max' | 'min' | null;
  /** Its value and uncertainty are the two ends of a range, and are shown so. */
  readonly asRange?: true;
  /** Value and limit are probabilities: on an axis, the surest of answers would look as if all were well, so none is drawn. */
  readonly scale?: 'chance';
  /** Checks that it may follow from where they are faults, by its story where that matters. The first is named that does not follow from one itself by what was measured. */
  readonly causes?: readonly string[] | ((finding: Finding) => readonly string[]);
  /** The one check that it follows from by what was measured, whatever else is wrong; holds where that is a fault. `raised`: faults and things to watch. */
  readonly cause?: (finding: Finding, raised: ReadonlyMap<string, Finding>) => string | undefined;
  /** The one check of the same rank that is told before it, by what both measured: of two losses the larger is to be found first. */
  readonly after?: (raised: ReadonlyMap<string, Weighed>) => string | undefined;
  /** What this finding leaves in doubt of other checks' all-clears, see `trust.ts`. */
  readonly doubts?: (finding: Finding) => Doubt | null;
  /** Looks at the starter's current alone, which a shifted zero hardly touches. */
  readonly largeCurrent?: true;
  /** True of a finding that somebody may be hurt by: it leads the first page, and its advice silences the others'. */
  readonly danger?: (finding: Pick<Finding, 'status' | 'variant'>) => boolean;
  /** True of something to watch in the log that the customer is told besides, since it changes what the rest is about; or of what is in order and may look like a trouble. */
  readonly tellsCustomer?: (finding: Pick<Finding, 'status' | 'variant'>) => boolean;
  /** True of a finding after which nobody can count on the vehicle to start or run on: its advice for the time until the repair stands alone. */
  readonly unfit?: (finding: Pick<Finding, 'status' | 'variant'>) => boolean;
  /** True where after this finding no other means what it says: all of them follow from it. */
  readonly voids?: (finding: Finding) => boolean;
  /** Its finding goes when what it hangs on goes: no repair has to show that it is gone. */
  readonly inTrain?: true;
  readonly compared?: readonly Compared[];
  readonly gives?: Given;
  /** Columns it cannot do without; the runner answers `undecided` with reason `no-current` (…) where one is missing. */
  readonly needs: readonly ('current' | 'temperature' | 'channels')[];
  /** Kinds of periods that its verdict rests on: where it is not sure enough that they are such, the runner answers `undecided`. */
  readonly restsOn?: readonly PeriodKind[];
  readonly limits: readonly DefaultLimit[];
  /** Keys of the reasons that it may give for `undecided`, each with prose; those of the runner are understood. */
  readonly reasons: readonly string[];
  /** Cautions (ids in `content/<language>/cautions.md`) for statuses other than clear. */
  readonly cautions: readonly string[];
  answer(analysis: Analysis, session: Session): Answer<F>;
}

/** Reasons of checks that have nothing to ask of this vehicle, or of what was fitted: people read "not measured", and no question is left open. */
export const NOT_ASKED: readonly string[] = [
  'not-fitted',
  'no-drop-channel',
  'only-drops',
  'no-starter',
  'not-lead',
  'no-wakes',
];

/** People read "not measured" of these too; but what was asked and could not be measured stays open. */
export const NOT_MEASURED: readonly string[] = [...NOT_ASKED, 'no-current', 'no-temperature', 'no-channels'];

export interface Finding extends Judged {
  readonly check: string;
  readonly status: Status;
  readonly facts?: AnyFacts;
  /** There when, and only when, `undecided`. */
  readonly reason?: string;
  readonly cautions: readonly string[];
}
