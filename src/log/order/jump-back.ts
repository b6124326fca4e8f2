/** Rows that lie behind the last: a block written twice, rows that came late, a clock that was set back, or a stray time before them. */
import type { Row } from '../rows/held-rows.ts';
import { type Course, YEAR_S } from './course.ts';
import { CONFIRM_ROWS } from './jump-ahead.ts';

/** Rows after a jump back that may wait; by then a few late rows would have ended. */
export const WAIT_ROWS = 1024;
/** So few rows after a jump back are late rows, never a clock that was set. */
const FEW_ROWS = 3;

/**
 * Takes them, or leaves them out.
 *
 * @param next the row that came back to where time had been; without it the rows stayed behind
 * @returns `repeat` where what follows may repeat still more of the log
 */
export function settleBack(course: Course, rows: readonly Row[], next?: Row): 'flow' | 'repeat' {
  const [first] = rows;
  const end = rows.at(-1);
  if (first === undefined || end === undefined) return 'flow';
  if (isRepeated(course, rows, false)) {
    for (const row of rows) course.leaveOut('duplicate-rows', row);
    return next === undefined ? 'repeat' : 'flow';
  }
  const { lastS, lastRawS, shiftS } = course;
  if (lastRawS - first.t > YEAR_S && course.held.taken() <= FEW_ROWS && rows.length > FEW_ROWS) {
    course.leaveOutTaken(first, 'a time far ahead of the rows after it');
    course.takeAll(rows);
    return 'flow';
  }
  const stepS = course.usualStepS();
  // The rows that came back left just the room that these need: only these had a wrong clock.
  const isHole = next !== undefined && rows.length > 1 && course.at(next) - lastS > end.t - first.t + stepS / 2;
  if (isHole || isSetBack(course, rows, course.at(first), course.at(end), next !== undefined)) {
    course.shiftS = lastS + stepS - first.t;
    course.tellClock(first, lastRawS - first.t, 'the clock was set back; rows follow in their order');
    course.takeAll(rows);
    if (isHole) course.shiftS = shiftS;
    return 'flow';
  }
  for (const row of rows) course.sortIn(row);
  return 'flow';
}

/**
 * Whether they stand in the log already.
 *
 * @param within what came before them was a repetition
 */
export function isRepeated(course: Course, rows: readonly Row[], within: boolean): boolean {
  const oldest = course.held.oldest();
  const inHeld = rows.filter((row) => oldest !== null && course.at(row) >= oldest);
  if (!inHeld.every((row) => course.holds(row))) return false;
  const { matched, missed } = course.checkpoints.compare(rows, course.shiftS);
  // One row between checkpoints cannot be told from a repeated one, so within a repeated block it is left out too.
  return missed === 0 && (inHeld.length + matched > 0 || within);
}

/** Late rows fill a place where rows are missing; rows of a clock that was set back lie among others. Times of the first and last, s. */
function isSetBack(
  { held }: Course,
  { length }: readonly Row[],
  fromS: number,
  toS: number,
  cameBack: boolean,
): boolean {
  if (length >= WAIT_ROWS) return true;
  if (length <= (cameBack ? FEW_ROWS : CONFIRM_ROWS - 1)) return false;
  const oldest = held.oldest();
  if (oldest === null || fromS < oldest) return !cameBack;
  return held.countBetween(fromS, toS) >= length / 2;
}
