/**
 * Where samples are missing. An interval is a gap when it is long against the steps on both sides of it, so that a
 * logger that slows down while the vehicle sleeps has none, and when the log does not often pause for just that long. A logger that writes
 * when something changes pauses for as long as nothing does, but never for longer than one habit of its own.
 */

/** Steps looked at on each side. */
const SIDE = 8;
/** A gap is longer than this many typical steps on either side. */
const TIMES_STEP = 5;
/** A pause below this is never a gap, s. */
const SHORTEST_S = 2;
/** So many intervals of one length (within 2 %) are the logger's habit. */
const HABIT = 10;
const SAME_LENGTH = Math.log(1.02);
/** So many pauses of other lengths, with hardly any above the longest habit, are those of a logger that waits for a change; up to this long, s. */
const LEAST_WAITS = 10;
const ABOVE_HABIT = 0.1;
const LONGEST_WAIT_S = 120;
/** Candidates kept; past this the log is all holes, and the shortest are let go. */
const MOST = 20_000;

export interface Gap {
  /** s since the epoch: the last sample before it. */
  readonly at: number;
  /** To the first sample after it, s. */
  readonly seconds: number;
}

export interface GapFinder {
  /** Time of the next sample, s; never falling. */
  push(t: number): void;
  /** The first `n` of these. */
  pushAll(t: Float64Array, n: number): void;
  /** In order of time. */
  finish(): Gap[];
}

export function createGapFinder(): GapFinder {
  const before = new Float64Array(SIDE);
  /** Intervals since the first, as far as they have been kept. */
  let kept = 0;
  let last = Number.NaN;
  const lengths = new Map<number, number>();
  let open: { gap: Gap; after: number[] }[] = [];
  let found: Gap[] = [];

  function push(t: number): void {
    const interval = t - last;
    const at = last;
    last = t;
    // Samples with one time stamp tell nothing of the step.
    if (!(interval > 0)) return;
    if (open.length > 0) settle(interval);
    if (interval > SHORTEST_S) {
      const length = Math.round(Math.log(interval) / SAME_LENGTH);
      lengths.set(length, (lengths.get(length) ?? 0) + 1);
      if (isLong(interval, before.subarray(0, Math.min(kept, SIDE)))) {
        open.push({ gap: { at, seconds: interval }, after: [] });
      }
    }
    before[kept++ % SIDE] = interval;
  }

  /** Hands an interval to the candidates that wait for what comes after them. */
  function settle(interval: number): void {
    for (const candidate of open) candidate.after.push(interval);
    while (open.length > 0 && open[0].after.length >= SIDE) judge(open.shift() as (typeof open)[number]);
  }

  function judge({ gap, after }: { gap: Gap; after: number[] }): void {
    if (!isLong(gap.seconds, after)) return;
    found.push(gap);
    if (found.length <= MOST) return;
    const lengthsFound = found.map(({ seconds }) => seconds).sort((a, b) => b - a);
    found = found.filter(({ seconds }) => seconds >= lengthsFound[MOST / 2]);
  }

  function isHabit(length: number): boolean {
    const times = (k: number) => lengths.get(k) ?? 0;
    return times(length - 1) + times(length) + times(length + 1) >= HABIT;
  }

  /** Up to this, s, a pause is a wait for something to change; 0 where the logger does not wait. */
  function longestWaitS(gaps: readonly Gap[]): number {
    const habits = [...lengths.keys()].filter(isHabit);
    const habitS = Math.exp((Math.max(...habits) + 1) * SAME_LENGTH);
    const longestS = Math.min(habitS, LONGEST_WAIT_S);
    const waits = gaps.filter(({ seconds }) => seconds <= longestS).length;
    const above = gaps.filter(({ seconds }) => seconds > habitS).length;
    return waits >= LEAST_WAITS && above <= ABOVE_HABIT * waits ? longestS : 0;
  }

  function finish(): Gap[] {
    for (const candidate of open) judge(candidate);
    open = [];
    const gaps = found.filter(({ seconds }) => !isHabit(Math.round(Math.log(seconds) / SAME_LENGTH)));
    const waitS = longestWaitS(gaps);
    return gaps.filter(({ seconds }) => seconds > waitS);
  }

  function pushAll(t: Float64Array, n: number): void {
    for (let k = 0; k < n; ) {
      const end = open.length > 0 ? k : endOfQuick(t, k, n, last);
      if (end === k) push(t[k++]);
      else {
        remember(t, k, end);
        last = t[end - 1];
        k = end;
      }
    }
  }

  /** The latest intervals between rows `from` and `to`, all of them short. */
  function remember(t: Float64Array, from: number, to: number): void {
    const intervalAt = (k: number) => t[k] - (k > from ? t[k - 1] : last);
    let first = to;
    for (let steps = 0; first > from && steps < SIDE; ) if (intervalAt(--first) > 0) steps++;
    for (let k = first; k < to; k++) {
      const interval = intervalAt(k);
      if (interval > 0) before[kept++ % SIDE] = interval;
    }
  }

  return { push, pushAll, finish };
}

/** Where the rows from `from` on stop to follow each other within the shortest gap; nearly always at `n`. */
function endOfQuick(t: Float64Array, from: number, n: number, last: number): number {
  if (!(t[from] - last <= SHORTEST_S)) return from;
  for (let k = from + 1; k < n; k++) if (t[k] - t[k - 1] > SHORTEST_S) return k;
  return n;
}

/** Without a step to compare with, on the edge of the log, the other side decides. */
function isLong(interval: number, steps: ArrayLike<number>): boolean {
  if (steps.length === 0) return true;
  const sorted = Float64Array.from(steps).sort();
  return interval > TIMES_STEP * sorted[sorted.length >> 1];
}
