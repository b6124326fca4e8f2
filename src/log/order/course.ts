/**
 * The course of the rows: those taken so far, in order of time; where time stands; what is added to the clock of the file; and what is
 * told of rows that find no place.
 */
import type { SampleBlock } from '../block.ts';
import { createHeldRows, type HeldRows, type Row } from '../rows/held-rows.ts';
import type { RawRows } from '../rows/raw-rows.ts';
import { type Checkpoints, createCheckpoints } from './checkpoints.ts';
import type { Ledger } from './ledger.ts';

/** A jump below this is not looked at, s, nor one below so many steps. Common practice, no source. */
const LEAST_JUMP_S = 2;
const LEAST_JUMP_STEPS = 5;
/** Taken while no two rows have shown the step, s. */
const UNKNOWN_STEP_S = 1;
/** No session has a gap this long, s: the clock was set. */
export const YEAR_S = 366 * 86_400;

export interface CourseOptions {
  /** Value columns: 3 and the channels. */
  readonly values: number;
  readonly ledger: Ledger;
  /** `ahead`: rows that the arrays hold in all, the block's first; those behind it come again. */
  readonly onBlock: (block: SampleBlock, ahead: number) => void;
  /** Added to the times until the clock is set in the log, s: for a log that begins with an unset clock. */
  readonly startShiftS?: number;
}

export interface Course {
  readonly held: Pick<HeldRows, 'oldest' | 'countBetween' | 'taken'>;
  readonly checkpoints: Pick<Checkpoints, 'compare'>;
  /** Of the row taken last, s: in sequence, and as its file had it; −∞ before the first. */
  readonly lastS: number;
  readonly lastRawS: number;
  /** From row to row, s: what is longer is a jump. */
  readonly leastJumpS: number;
  /** Added to the times of the file, s. */
  shiftS: number;
  /** The file that is read, and whether its rows share time stamps as a rule. */
  file: string;
  coarse: boolean;
  /** Time of a row in sequence, s. */
  at(row: Row): number;
  /** Learns anew from the rows held what a jump is. */
  learnStep(): void;
  usualStepS(): number;
  accept(row: Row): void;
  /** Rows `from` up to `to`, in order and not before the last. */
  acceptRun(rows: RawRows, from: number, to: number): void;
  /** Puts a late row in its place, or tells that it has none. */
  sortIn(row: Row): void;
  /** Rows that waited, in their order. */
  takeAll(rows: readonly Row[]): void;
  holds(row: Row): boolean;
  leaveOut(kind: 'duplicate-rows' | 'overlap' | 'out-of-order', row: Row, found?: string): void;
  /** Leaves out all rows that are held, as if none had been taken: those behind them, from `row` on, are the log. */
  leaveOutTaken(row: Row, found: string): void;
  /** A file begins so long before the end of the one before it, s. */
  tellOverlap(row: Row, seconds: number): void;
  /** `jumpS`: by how much, either way; `found` says which. */
  tellClock(row: Row, jumpS: number, found: string): void;
  finish(): void;
}

export function createCourse({ values, ledger, onBlock, startShiftS = 0 }: CourseOptions): Course {
  const checkpoints = createCheckpoints();
  const held = createHeldRows(values, (block, ahead) => {
    checkpoints.add(block);
    onBlock(block, ahead);
  });
  const now = {
    lastS: Number.NEGATIVE_INFINITY,
    lastRawS: Number.NEGATIVE_INFINITY,
    leastJumpS: LEAST_JUMP_S,
    shiftS: startShiftS,
    file: '',
    coarse: false,
  };
  const at = (row: Row): number => row.t + now.shiftS;

  function accept(row: Row): void {
    now.lastS = at(row);
    now.lastRawS = row.t;
    held.append(row, now.lastS);
  }

  function sortIn(row: Row): void {
    const t = at(row);
    if (held.includes(row, t)) leaveOut('duplicate-rows', row);
    else if (held.insert(row, t)) leaveOut('out-of-order', row, 'put in its place');
    else leaveOut('out-of-order', row, 'left out: its place in time is taken or gone');
  }

  function leaveOut(kind: 'duplicate-rows' | 'overlap' | 'out-of-order', row: Row, found?: string): void {
    ledger.tell({ kind, at: at(row), file: now.file, line: row.line, found });
  }

  return Object.assign(now, {
    held,
    checkpoints,
    at,
    accept,
    sortIn,
    leaveOut,
    learnStep() {
      now.leastJumpS = Math.max(LEAST_JUMP_S, LEAST_JUMP_STEPS * (held.step() || 0));
    },
    usualStepS: () => held.step() || UNKNOWN_STEP_S,
    acceptRun(rows: RawRows, from: number, to: number) {
      held.appendRun(rows, from, to, now.shiftS);
      now.lastRawS = rows.t[to - 1];
      now.lastS = now.lastRawS + now.shiftS;
    },
    takeAll(rows: readonly Row[]) {
      for (const row of rows) {
        if (at(row) >= now.lastS) accept(row);
        else sortIn(row);
      }
    },
    holds: (row: Row) => held.includes(row, at(row)),
    leaveOutTaken(row: Row, found: string) {
      ledger.tell({ kind: 'out-of-order', at: at(row), count: held.takeBack(), file: now.file, found });
      now.lastS = now.lastRawS = Number.NEGATIVE_INFINITY;
    },
    tellOverlap(row: Row, seconds: number) {
      const found = 'begins before the file before it ends';
      ledger.tell({ kind: 'overlap', at: at(row), count: 0, seconds, file: now.file, line: row.line, found });
    },
    tellClock(row: Row, jumpS: number, found: string) {
      const t = Number.isFinite(now.lastS) ? now.lastS : row.t;
      const seconds = Math.abs(jumpS);
      ledger.tell({ kind: 'clock-jump', at: t, seconds, file: now.file, line: row.line, found, alone: true });
    },
    finish: () => held.finish(),
  });
}
