/**
 * Is the log whole, and of the vehicle that the manifest tells of? Missing time and unreadable rows are judged as shares; anything else that leaves a hole or a doubt
 * about the clock is worth watching. Repeated rows are dropped without loss, and a clock change that the order of the
 * rows settles costs nothing: both are told and judged clear.
 */
import type { Analysis } from '../analysis/model.ts';
import type { FaultKind } from '../log/block.ts';
import type { Session } from '../manifest/session.ts';
import type { DefaultLimit } from '../measures/limit.ts';
import { limitOf, NO_SOURCE } from '../measures/limit.ts';
import { otherSystem } from '../measures/other-system.ts';
import { mostBy, total } from '../measures/spans.ts';
import type { Check } from './check.ts';

const MISSING_SHARE: DefaultLimit = {
  key: 'missingShare',
  value: 0.1,
  unit: '1',
  source: NO_SOURCE,
  applies: 'of the time from the first row to the last; the same share of rows that cannot be read',
};
/** Missing time that is nothing to speak of: a changed card, a missed minute. */
const TRIFLE_S = 600;
const TRIFLING_ROWS = 0.001;
/** What the technician's times of fitting and removal may differ from the log's, s. */
const FITTING_S = 3600;

/** Faults of the rows that put readings or their times in doubt. */
const DOUBTFUL: readonly FaultKind[] = [
  'clock-jump',
  'out-of-order',
  'out-of-range',
  'frozen',
  'overlap',
  'impossible-time',
];

/** With more than this missing, what was seen may be the wrong part of it; share of the time. Common practice, no source. */
const MOSTLY_MISSING = 0.5;

type Facts = {
  readonly lengthS: number;
  readonly missingS: number;
  readonly gaps: number;
  readonly longestGapS: number;
  readonly longestGapT: number | null;
  readonly outsideS: number;
  /** The larger part of that, and whether it lies after the last row. */
  readonly mostOutsideS: number;
  readonly endsEarly: boolean;
  readonly clockFaults: number;
  readonly repeatedRows: number;
  readonly rejectedRows: number;
  readonly rows: number;
  readonly doubtfulRows: number;
  readonly cutShort: boolean;
  readonly declaredV?: number;
  readonly usualV?: number;
  readonly suitsV?: number;
  readonly tooHigh?: boolean;
};

export const check: Check<Facts> = {
  id: 'log-coverage',
  about: 'log',
  // Where most of the time between its rows is missing, what is left may be the wrong part of it. A log that ends early holds what it
  // holds: page one gives no all-clear beside that fault, and what was measured stays measured.
  doubts: ({ status, facts }) =>
    status === 'fault' && !(Number(facts?.missingS) <= MOSTLY_MISSING * Number(facts?.lengthS)) ? 'all' : null,
  side: 'max',
  // Held against another system's limits hardly anything has an answer.
  voids: ({ variant }) => variant === 'other-system',
  needs: [],
  limits: [MISSING_SHARE],
  reasons: ['no-time-covered'],
  cautions: [],
  answer(analysis, session) {
    const limit = limitOf(MISSING_SHARE, session);
    const { log } = analysis;
    const count = (...kinds: FaultKind[]) =>
      total(log.faults, (fault) => (kinds.includes(fault.kind) ? fault.count : 0));
    const lengthS = analysis.end - analysis.start;
    if (!(lengthS > 0)) return { status: 'undecided', limit, reason: 'no-time-covered' };

    const { before, after } = outsideS(analysis, session);
    const outside = before + after;
    const value = (analysis.missingS + outside) / (lengthS + outside);
    const rejected = log.rows > 0 ? log.rowsRejected / log.rows : 0;
    const longest = mostBy(
      log.faults.filter((fault) => fault.kind === 'gap'),
      (fault) => fault.seconds,
    );
    const base = {
      measured: { value, unit: '1', uncertainty: null },
      limit,
      facts: {
        lengthS,
        missingS: analysis.missingS,
        gaps: count('gap'),
        longestGapS: longest?.seconds ?? 0,
        longestGapT: longest?.at ?? null,
        outsideS: outside,
        mostOutsideS: Math.max(before, after),
        endsEarly: after > before,
        clockFaults: count('clock-jump', 'out-of-order', 'overlap', 'impossible-time'),
        repeatedRows: count('duplicate-rows'),
        rejectedRows: log.rowsRejected,
        rows: log.rows,
        doubtfulRows: count('out-of-range', 'frozen'),
        cutShort: count('cut-short') > 0,
      },
      evidence: [{ chart: 'log-coverage', from: analysis.start, to: analysis.end }],
    } as const;
    const other = otherSystem(analysis, session);
    if (other) {
      const { usualV, suitsV, tooHigh } = other;
      const facts = { ...base.facts, usualV, suitsV, tooHigh, declaredV: session.vehicle.systemV };
      const evidence = [{ chart: 'session-overview', from: analysis.start, to: analysis.end }];
      return { ...base, facts, evidence, status: tooHigh ? 'fault' : 'watch', variant: 'other-system' };
    }
    const isWhole = analysis.missingS <= limit.value * lengthS && rejected <= limit.value;
    if (value > limit.value && isWhole) return { ...base, status: 'fault', variant: 'not-throughout' };
    if (value > limit.value || rejected > limit.value) return { ...base, status: 'fault' };
    const spotted =
      analysis.missingS > TRIFLE_S || outside > 0 || rejected > TRIFLING_ROWS || count(...DOUBTFUL, 'cut-short') > 0;
    return { ...base, status: spotted ? 'watch' : 'clear' };
  },
};

/** Time for which the logger was fitted, as the manifest says, but wrote nothing before its first and after its last row, s. */
function outsideS(analysis: Analysis, session: Session): { before: number; after: number } {
  const { fittedAtMs, removedAtMs } = session.install;
  const counted = (seconds: number) => (seconds > FITTING_S ? seconds : 0);
  return {
    before: fittedAtMs === undefined ? 0 : counted(analysis.start - fittedAtMs / 1000),
    after: removedAtMs === undefined ? 0 : counted(removedAtMs / 1000 - analysis.end),
  };
}
