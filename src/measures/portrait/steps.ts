/**
 * A course that keeps levels, as its steps. It is cut in two where that takes away most of its scatter, and again, as long as
 * a cut takes away more than chance would (binary segmentation: Scott and Knott 1974, Vostrikova 1981, from memory). Levels
 * are held against each other on a scale of asinh, so that a fall from 400 to 200 mA counts as much as one from 8 to 4 A.
 */
import { median } from '../../battery/statistics.ts';

export interface Step {
  /** Where it begins and ends among the readings: first one, and the one behind its last. */
  readonly from: number;
  readonly to: number;
  /** Mean over its time, without its outermost readings, in which the course goes from one level to the next. */
  readonly level: number;
  readonly seconds: number;
}

export interface Course {
  readonly levels: readonly number[];
  /** Time of each, s. */
  readonly seconds: readonly number[];
}

/** Linear below this, A. */
const LINEAR_A = 0.005;
/** What one reading differs from the next without any reason counts at least this, on the scale of asinh. */
const LEAST_NOISE = 0.01;
/** Neighbours nearer than this are one level: 10 %, and 4 mA. */
const SAME = 0.1;
const SAME_A = 0.004;
/** A shorter one is a flicker, s, and rows. */
const SHORTEST_S = 4;
const LEAST_ROWS = 2;
/** More are no staircase that anybody could remember. */
const MOST_STEPS = 10;

export function stepsOf({ levels, seconds }: Course): Step[] {
  const n = levels.length;
  if (n === 0) return [];
  const x = levels.map((level) => Math.asinh(level / LINEAR_A));
  const sums = [0];
  const times = [0];
  for (let k = 0; k < n; k++) {
    const s = seconds[k] ?? 0;
    sums.push((sums[k] ?? 0) + (x[k] ?? 0) * s);
    times.push((times[k] ?? 0) + s);
  }
  const jumps = x.slice(1).map((value, k) => Math.abs(value - (x[k] ?? value)));
  const noise = Math.max(LEAST_NOISE, median(jumps.length > 0 ? jumps : [0]) / 0.954);
  const stepS = (times[n] ?? 0) / n;
  const worth = 6 * Math.log(n + 1) * noise * noise * stepS;
  const edges = [0, n];
  const open: [number, number][] = [[0, n]];
  for (let part = open.pop(); part; part = open.pop()) {
    const cut = bestCut(sums, times, part);
    if (cut.gain <= worth) continue;
    edges.push(cut.at);
    open.push([part[0], cut.at], [cut.at, part[1]]);
  }
  edges.sort((a, b) => a - b);
  return joinAlike(edges, levels, seconds);
}

function bestCut(sums: readonly number[], times: readonly number[], [from, to]: [number, number]) {
  const at = (list: readonly number[], k: number) => list[k] ?? 0;
  const best = { at: -1, gain: 0 };
  for (let k = from + 1; k < to; k++) {
    const left = at(times, k) - at(times, from);
    const right = at(times, to) - at(times, k);
    if (left <= 0 || right <= 0) continue;
    const apart = (at(sums, k) - at(sums, from)) / left - (at(sums, to) - at(sums, k)) / right;
    const gain = ((left * right) / (left + right)) * apart * apart;
    if (gain > best.gain) Object.assign(best, { at: k, gain });
  }
  return best;
}

/** Joins what is alike, what is too short, and the nearest two while there are too many. */
function joinAlike(edges: readonly number[], levels: readonly number[], seconds: readonly number[]): Step[] {
  const make = (from: number, to: number): Step => {
    const [first, last] = to - from >= 5 ? [from + 1, to - 1] : [from, to];
    let [charge, time, whole] = [0, 0, 0];
    for (let k = from; k < to; k++) {
      const s = seconds[k] ?? 0;
      whole += s;
      if (k < first || k >= last) continue;
      charge += (levels[k] ?? 0) * s;
      time += s;
    }
    return { from, to, level: time > 0 ? charge / time : (levels[from] ?? 0), seconds: whole };
  };
  let steps = edges.slice(1).map((to, k) => make(edges[k] ?? 0, to));
  for (;;) {
    const pairs = steps.slice(1).map((step, k) => ({ k, apart: apartOf(steps[k] ?? step, step) }));
    const nearest = pairs.reduce((a, b) => (b.apart < a.apart ? b : a), { k: -1, apart: Number.POSITIVE_INFINITY });
    const short = steps.findIndex(
      ({ from, to, seconds: s }) => steps.length > 1 && (s < SHORTEST_S || to - from < LEAST_ROWS),
    );
    const at = nearest.apart < SAME || steps.length > MOST_STEPS ? nearest.k : short < 0 ? -1 : nearerOf(pairs, short);
    const [one, next] = [steps[at], steps[at + 1]];
    if (!one || !next) return steps;
    steps = [...steps.slice(0, at), make(one.from, next.to), ...steps.slice(at + 2)];
  }
}

function apartOf(a: Step, b: Step): number {
  const gap = Math.abs(a.level - b.level);
  return gap < SAME_A ? 0 : gap / Math.max(Math.abs(a.level), Math.abs(b.level));
}

/** Which neighbour a short step is joined to. */
function nearerOf(pairs: readonly { readonly k: number; readonly apart: number }[], short: number): number {
  const before = pairs[short - 1]?.apart ?? Number.POSITIVE_INFINITY;
  const after = pairs[short]?.apart ?? Number.POSITIVE_INFINITY;
  return before <= after ? short - 1 : short;
}
