/**
 * Rows of all files, in the order of the files, to rows in order of time. Rows that go on from the last pass in runs.
 * Where time jumps, the rows that follow are kept waiting until they show what it was: a gap, a clock that was set, a
 * block written twice, rows that came late, or a stray time.
 */
import type { SampleBlock } from '../block.ts';
import { createHeldRows, type Row } from '../rows/held-rows.ts';
import type { RawRows } from '../rows/raw-rows.ts';
import { createCheckpoints } from './checkpoints.ts';
import type { Ledger } from './ledger.ts';

/** Rows after a jump forward that must agree with it. */
const CONFIRM_ROWS = 8;
/** Rows after a jump back that may wait; by then a few late rows would have ended. */
const WAIT_ROWS = 1024;
/** So few rows after a jump back are late rows, never a clock that was set. */
const FEW_ROWS = 3;
/** A jump below this is not looked at, s, nor one below so many steps. */
const LEAST_JUMP_S = 2;
const LEAST_JUMP_STEPS = 5;
/** No session has a gap this long: the clock was set. */
const YEAR_S = 366 * 86_400;
const DAY_S = 86_400;

export interface SequenceOptions {
  /** Value columns: 3 and the channels. */
  readonly values: number;
  readonly ledger: Ledger;
  /** `ahead`: rows that the arrays hold in all, the block's first; those behind it come again. */
  readonly onBlock: (block: SampleBlock, ahead: number) => void;
  /** Added to the times until the clock is set in the log, s: for a log that begins with an unset clock. */
  readonly startShiftS?: number;
}

export interface Sequence {
  /** `coarse`: rows share time stamps as a rule. */
  startFile(name: string, coarse: boolean): void;
  push(rows: RawRows): void;
  finish(): void;
  /** s, of the last row taken; null before the first. */
  lastT(): number | null;
  /** Rows that became samples. */
  taken(): number;
  /** What `startShiftS` would put the rows before the first implausible jump forward in sequence; 0 without one. */
  unsetShiftS(): number;
}

/** `ahead`, `back`: rows wait for an answer. `repeat`, `overlap`: rows are left out until time passes the last. */
type Mode = 'flow' | 'ahead' | 'back' | 'repeat' | 'overlap';

export function createSequence({ values, ledger, onBlock, startShiftS = 0 }: SequenceOptions): Sequence {
  const checkpoints = createCheckpoints();
  const held = createHeldRows(values, (block, ahead) => {
    checkpoints.add(block);
    onBlock(block, ahead);
  });
  let mode: Mode = 'flow';
  let waiting: Row[] = [];
  /** In sequence, and as the file had it. */
  let last = Number.NEGATIVE_INFINITY;
  let lastRaw = Number.NEGATIVE_INFINITY;
  let shift = startShiftS;
  let unsetShiftS = 0;
  let leastJump = LEAST_JUMP_S;
  let file = '';
  let coarse = false;
  let fileBegins = false;

  function push(rows: RawRows): void {
    learnStep();
    for (let row = 0; row < rows.n; ) {
      const end = mode === 'flow' && !fileBegins ? runEnd(rows, row) : row;
      if (end > row) {
        held.appendRun(rows, row, end, shift);
        lastRaw = rows.t[end - 1];
        last = lastRaw + shift;
        row = end;
      } else {
        take(rowOf(rows, row));
        row++;
      }
    }
  }

  function learnStep(): void {
    const step = held.step();
    leastJump = Math.max(LEAST_JUMP_S, Number.isNaN(step) ? 0 : LEAST_JUMP_STEPS * step);
  }

  /** Where the rows stop to go on plainly from the last. */
  function runEnd(rows: RawRows, from: number): number {
    const { t, twin, n } = rows;
    let before = lastRaw;
    for (let row = from; row < n; row++) {
      const step = t[row] - before;
      if (!(step > 0 && step <= leastJump) && !(step === 0 && (coarse || twin[row] === 0))) return row;
      before = t[row];
    }
    return n;
  }

  function take(row: Row): void {
    if (fileBegins) beginFile(row);
    const t = row.t + shift;
    if (mode === 'flow') flow(row, t);
    else if (mode === 'ahead') ahead(row, t);
    else if (mode === 'back') back(row, t);
    else if (t > last) resume(row);
    else if (mode === 'overlap') leaveOut('overlap', row);
    else if (isRepeated([row])) leaveOut('duplicate-rows', row);
    else wait('back', row);
  }

  function flow(row: Row, t: number): void {
    const step = t - last;
    if (step === 0 && row.twin && !coarse) leaveOut('duplicate-rows', row);
    else if (step < 0) wait('back', row);
    else if (step <= leastJump || last === Number.NEGATIVE_INFINITY) accept(row);
    else {
      learnStep();
      if (step <= leastJump) accept(row);
      else wait('ahead', row);
    }
  }

  function accept(row: Row): void {
    last = row.t + shift;
    lastRaw = row.t;
    held.append(row, last);
  }

  function wait(why: 'ahead' | 'back', row: Row): void {
    mode = why;
    waiting = [row];
  }

  function resume(row: Row): void {
    mode = 'flow';
    flow(row, row.t + shift);
  }

  function leaveOut(kind: 'duplicate-rows' | 'overlap' | 'out-of-order', row: Row, found?: string): void {
    ledger.tell({ kind, at: row.t + shift, file, line: row.line, found });
  }

  function ahead(row: Row, t: number): void {
    if (t < last && waiting.length > 1) {
      // Time went back behind both: that is another jump, and the rows between stand.
      confirmAhead();
      take(row);
      return;
    }
    if (t < waiting[0].t + shift) {
      // Time came back to where it had been: the rows between had a stray time.
      for (const stray of waiting) leaveOut('out-of-order', stray, 'a time far ahead of the rows around it');
      resume(row);
      return;
    }
    waiting.push(row);
    if (waiting.length >= CONFIRM_ROWS) confirmAhead();
  }

  function confirmAhead(): void {
    const [first] = waiting;
    const jump = first.t + shift - last;
    const step = usualStep();
    // Without the shift the rows follow at once: the clock was put right.
    if (shift > 0 && first.t > last && (first.t - last <= leastJump || shift > YEAR_S)) {
      tellClock(first, first.t - lastRaw, 'the clock was put right');
      shift = 0;
    } else if (jump > YEAR_S) {
      unsetShiftS ||= first.t - step - lastRaw;
      shift = last + step - first.t;
      tellClock(first, jump, 'the clock was set forward; rows follow in their order');
    }
    replay(waiting);
  }

  function back(row: Row, t: number): void {
    if (t > last) {
      settleBack(row);
      take(row);
      return;
    }
    waiting.push(row);
    if (waiting.length >= WAIT_ROWS) settleBack();
  }

  /** `next`: the row that came back to where time had been; without it the rows stayed behind. */
  function settleBack(next?: Row): void {
    const rows = waiting;
    if (isRepeated(rows)) {
      for (const row of rows) leaveOut('duplicate-rows', row);
      mode = next === undefined ? 'repeat' : 'flow';
      waiting = [];
      return;
    }
    const [first] = rows;
    if (lastRaw - first.t > YEAR_S && held.taken() <= FEW_ROWS && rows.length > FEW_ROWS) {
      const found = 'a time far ahead of the rows after it';
      ledger.tell({ kind: 'out-of-order', at: first.t + shift, count: held.takeBack(), file, found });
      last = lastRaw = Number.NEGATIVE_INFINITY;
      replay(rows);
      return;
    }
    const span = rows[rows.length - 1].t - first.t;
    const step = usualStep();
    // The rows that came back left just the room that these need: only these had a wrong clock.
    const hole = next !== undefined && rows.length > 1 && next.t + shift - last > span + step / 2;
    if (hole || isSetBack(rows, next !== undefined)) {
      const before = shift;
      const size = lastRaw - first.t;
      shift = last + step - first.t;
      tellClock(first, size, 'the clock was set back; rows follow in their order');
      replay(rows);
      if (hole) shift = before;
      return;
    }
    mode = 'flow';
    waiting = [];
    for (const row of rows) sortIn(row);
  }

  /** Late rows fill a place where rows are missing; rows of a clock that was set back lie among others. */
  function isSetBack(rows: readonly Row[], cameBack: boolean): boolean {
    if (rows.length >= WAIT_ROWS) return true;
    if (rows.length <= (cameBack ? FEW_ROWS : CONFIRM_ROWS - 1)) return false;
    const [first] = rows;
    const [from, to] = [first.t + shift, rows[rows.length - 1].t + shift];
    const oldest = held.oldest();
    if (oldest === null || from < oldest) return !cameBack;
    return held.countBetween(from, to) >= rows.length / 2;
  }

  function sortIn(row: Row): void {
    const t = row.t + shift;
    if (held.includes(row, t)) leaveOut('duplicate-rows', row);
    else if (held.insert(row, t)) leaveOut('out-of-order', row, 'put in its place');
    else leaveOut('out-of-order', row, 'left out: its place in time is taken or gone');
  }

  function isRepeated(rows: readonly Row[]): boolean {
    const oldest = held.oldest();
    const inHeld = rows.filter((row) => oldest !== null && row.t + shift >= oldest);
    if (!inHeld.every((row) => held.includes(row, row.t + shift))) return false;
    const { matched, missed } = checkpoints.compare(rows, shift);
    // One row between checkpoints cannot be told from a repeated one, so within a repeated block it is left out too.
    return missed === 0 && (inHeld.length + matched > 0 || mode === 'repeat');
  }

  /** The rows that waited, in their order. */
  function replay(rows: readonly Row[]): void {
    mode = 'flow';
    waiting = [];
    for (const row of rows) {
      if (row.t + shift >= last) accept(row);
      else sortIn(row);
    }
  }

  /** `jump`: by how much, either way; `found` says which. */
  function tellClock(row: Row, jump: number, found: string): void {
    const seconds = Math.abs(jump);
    const at = Number.isFinite(last) ? last : row.t;
    ledger.tell({ kind: 'clock-jump', at, seconds, file, line: row.line, found, alone: true });
  }

  function usualStep(): number {
    const step = held.step();
    return Number.isNaN(step) ? 1 : step;
  }

  /** Answers for what waits at the end of a file. */
  function settle(): void {
    if (mode === 'back') settleBack();
    else if (mode === 'ahead') {
      const [first] = waiting;
      if (waiting.length > 1 || first.t + shift - last <= DAY_S) confirmAhead();
      else leaveOut('out-of-order', first, 'a time far ahead of the rows before it');
    }
    mode = 'flow';
    waiting = [];
  }

  function beginFile(row: Row): void {
    fileBegins = false;
    if (last === Number.NEGATIVE_INFINITY) return;
    const goesOn = row.t >= lastRaw && row.t - lastRaw <= DAY_S;
    if (shift !== 0 && !goesOn) shift = 0;
    const step = row.t + shift - last;
    if (step < 0 && step > -YEAR_S) {
      ledger.tell({
        kind: 'overlap',
        at: row.t + shift,
        count: 0,
        seconds: -step,
        file,
        line: row.line,
        found: 'begins before the file before it ends',
      });
      mode = 'overlap';
    }
  }

  return {
    startFile(name, isCoarse) {
      settle();
      file = name;
      coarse = isCoarse;
      fileBegins = true;
    },
    push,
    finish() {
      settle();
      held.finish();
    },
    lastT: () => (Number.isFinite(last) ? last : null),
    taken: () => held.taken(),
    unsetShiftS: () => unsetShiftS,
  };
}

function rowOf(rows: RawRows, row: number): Row {
  const values = rows.values.map((column) => column[row]);
  return { t: rows.t[row], values, line: rows.line[row], twin: rows.twin[row] === 1 };
}
