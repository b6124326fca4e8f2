/** Rows that stayed ahead after time had jumped forward: behind a gap, or by a clock that was set. */
import type { Row } from '../rows/held-rows.ts';
import { type Course, YEAR_S } from './course.ts';

/** Rows after a jump forward that must agree with it. */
export const CONFIRM_ROWS = 8;

/**
 * Takes them, by the clock that they show.
 *
 * @returns what was added to the clock for it, s, where time jumped so far that no session has such a gap; 0 otherwise
 */
export function settleAhead(course: Course, rows: readonly Row[]): number {
  const [first] = rows;
  if (first === undefined) return 0;
  const { lastS, lastRawS, shiftS, leastJumpS } = course;
  const jumpS = course.at(first) - lastS;
  const stepS = course.usualStepS();
  let unsetS = 0;
  // Without the shift the rows follow at once: the clock was put right.
  if (shiftS > 0 && first.t > lastS && (first.t - lastS <= leastJumpS || shiftS > YEAR_S)) {
    course.tellClock(first, first.t - lastRawS, 'the clock was put right');
    course.shiftS = 0;
  } else if (jumpS > YEAR_S) {
    unsetS = first.t - stepS - lastRawS;
    course.shiftS = lastS + stepS - first.t;
    course.tellClock(first, jumpS, 'the clock was set forward; rows follow in their order');
  }
  course.takeAll(rows);
  return unsetS;
}
