/**
 * Rows of all files, in the order of the files, to rows in order of time. Rows that go on from the last pass in runs.
 * Where time jumps, the rows that follow are kept waiting until they show what it was: a gap, a clock that was set, a
 * block written twice, rows that came late, or a stray time. What they show is judged in `jump-ahead.ts` and `jump-back.ts`.
 */
import type { Row } from '../rows/held-rows.ts';
import type { RawRows } from '../rows/raw-rows.ts';
import { type Course, type CourseOptions, createCourse, YEAR_S } from './course.ts';
import { CONFIRM_ROWS, settleAhead } from './jump-ahead.ts';
import { isRepeated, settleBack, WAIT_ROWS } from './jump-back.ts';

const DAY_S = 86_400;

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

export function createSequence(options: CourseOptions): Sequence {
  const course = createCourse(options);
  let mode: Mode = 'flow';
  let waiting: Row[] = [];
  let unsetShiftS = 0;
  let fileBegins = false;

  function push(rows: RawRows): void {
    course.learnStep();
    for (let row = 0; row < rows.n; ) {
      const end = mode === 'flow' && !fileBegins ? runEnd(course, rows, row) : row;
      if (end > row) {
        course.acceptRun(rows, row, end);
        row = end;
      } else {
        take(rowOf(rows, row));
        row++;
      }
    }
  }

  function take(row: Row): void {
    if (fileBegins) beginFile(row);
    if (mode === 'flow') flow(row);
    else if (mode === 'ahead') ahead(row);
    else if (mode === 'back') back(row);
    else if (course.at(row) > course.lastS) resume(row);
    else if (mode === 'overlap') course.leaveOut('overlap', row);
    else if (isRepeated(course, [row], true)) course.leaveOut('duplicate-rows', row);
    else wait('back', row);
  }

  function flow(row: Row): void {
    const stepS = course.at(row) - course.lastS;
    if (stepS === 0 && row.twin && !course.coarse) course.leaveOut('duplicate-rows', row);
    else if (stepS < 0) wait('back', row);
    else if (stepS <= course.leastJumpS || course.lastS === Number.NEGATIVE_INFINITY) course.accept(row);
    else {
      course.learnStep();
      if (stepS <= course.leastJumpS) course.accept(row);
      else wait('ahead', row);
    }
  }

  function wait(why: 'ahead' | 'back', row: Row): void {
    mode = why;
    waiting = [row];
  }

  function resume(row: Row): void {
    mode = 'flow';
    waiting = [];
    flow(row);
  }

  function ahead(row: Row): void {
    const [first] = waiting;
    if (course.at(row) < course.lastS && waiting.length > 1) {
      // Time went back behind both: that is another jump, and the rows between stand.
      confirmAhead();
      take(row);
    } else if (first !== undefined && course.at(row) < course.at(first)) {
      // Time came back to where it had been: the rows between had a stray time.
      for (const stray of waiting) course.leaveOut('out-of-order', stray, 'a time far ahead of the rows around it');
      resume(row);
    } else {
      waiting.push(row);
      if (waiting.length >= CONFIRM_ROWS) confirmAhead();
    }
  }

  function confirmAhead(): void {
    const unsetS = settleAhead(course, waiting);
    unsetShiftS ||= unsetS;
    mode = 'flow';
    waiting = [];
  }

  function back(row: Row): void {
    if (course.at(row) > course.lastS) {
      confirmBack(row);
      take(row);
      return;
    }
    waiting.push(row);
    if (waiting.length >= WAIT_ROWS) confirmBack();
  }

  function confirmBack(next?: Row): void {
    mode = settleBack(course, waiting, next);
    waiting = [];
  }

  /** Answers for what waits at the end of a file. */
  function settle(): void {
    const [first] = waiting;
    if (mode === 'back') confirmBack();
    else if (mode === 'ahead' && first !== undefined) {
      if (waiting.length > 1 || course.at(first) - course.lastS <= DAY_S) confirmAhead();
      else course.leaveOut('out-of-order', first, 'a time far ahead of the rows before it');
    }
    mode = 'flow';
    waiting = [];
  }

  function beginFile(row: Row): void {
    fileBegins = false;
    if (course.lastS === Number.NEGATIVE_INFINITY) return;
    const goesOn = row.t >= course.lastRawS && row.t - course.lastRawS <= DAY_S;
    if (!goesOn) course.shiftS = 0;
    const earlyS = course.lastS - course.at(row);
    if (!(earlyS > 0 && earlyS < YEAR_S)) return;
    course.tellOverlap(row, earlyS);
    mode = 'overlap';
  }

  return {
    startFile(name, coarse) {
      settle();
      course.file = name;
      course.coarse = coarse;
      fileBegins = true;
    },
    push,
    finish() {
      settle();
      course.finish();
    },
    lastT: () => (Number.isFinite(course.lastS) ? course.lastS : null),
    taken: () => course.held.taken(),
    unsetShiftS: () => unsetShiftS,
  };
}

/** Where the rows stop to go on plainly from the last. */
function runEnd({ lastRawS, leastJumpS, coarse }: Course, { t, twin, n }: RawRows, from: number): number {
  let before = lastRawS;
  for (let row = from; row < n; row++) {
    const step = t[row] - before;
    if (!(step > 0 && step <= leastJumpS) && !(step === 0 && (coarse || twin[row] === 0))) return row;
    before = t[row];
  }
  return n;
}

function rowOf(rows: RawRows, row: number): Row {
  const values = rows.values.map((column) => column[row]);
  return { t: rows.t[row], values, line: rows.line[row], twin: rows.twin[row] === 1 };
}
