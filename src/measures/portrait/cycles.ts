/** What is done with the vehicle: key cycles, drives, starts. */
import type { Analysis, PeriodKind, Span } from '../../analysis/model.ts';
import { measure } from '../measure.ts';
import type { Spread } from './distribution.ts';
import { spreadOf } from './spread-of.ts';

/** A hole no longer than this within a stretch of use does not end it, s. */
const SHORT_HOLE_S = 60;
const USE: readonly PeriodKind[] = ['key-on', 'cranking', 'driving'];

export interface Cycles {
  /** From key on to key off, in order; the log's begin or end may cut one short. */
  readonly keyCycles: readonly (Span & { readonly drives: boolean })[];
  readonly drives: number;
  readonly driveMinutes: Spread | null;
  /** Cranks after which the engine ran, and those of them during a drive, after a stop at lights. */
  readonly starts: number;
  readonly restarts: number;
}

export const cycles = measure((analysis): Cycles => {
  const { drives } = analysis;
  const started = analysis.cranks.filter((crank) => crank.started);
  return {
    keyCycles: keyCyclesOf(analysis),
    drives: drives.length,
    driveMinutes: spreadOf(drives.map(({ start, end }) => (end - start) / 60)),
    starts: started.length,
    restarts: started.filter(({ at }) => drives.some(({ start, end }) => at > start && at < end)).length,
  };
});

function keyCyclesOf({ periods }: Analysis) {
  const runs: { start: number; end: number; drives: boolean }[] = [];
  let open = false;
  for (const { kind, start, end } of periods) {
    const last = runs.at(-1);
    if (USE.includes(kind)) {
      const drives = kind === 'driving';
      if (open && last) Object.assign(last, { end, drives: last.drives || drives });
      else runs.push({ start, end, drives });
      open = true;
    } else if (kind !== 'no-data' || end - start > SHORT_HOLE_S) open = false;
  }
  return runs;
}
