/**
 * The decision over the whole sequence: of all ways to give each segment a state, the one with the least penalty, by
 * dynamic programming (Viterbi); and how sure each segment's state is, from all ways together (forward and backward sums).
 */
import { STATES, type State } from './state.ts';

const N = STATES.length;

export interface Reading {
  readonly state: State;
  /** Share of all ways, weighed by how likely each is, that give the segment this state. */
  readonly certainty: number;
}

/**
 * Each segment's state, and what the whole sequence costs: two ideas of one vehicle are weighed by it.
 *
 * @param n segments
 * @param penalty of segment `k` in state `s`, and of a move into segment `k` from state `r` to `s`; natural-log units
 */
export function readStates(
  n: number,
  penalty: (k: number, s: State) => number,
  move: (k: number, r: State, s: State) => number,
  begin: (s: State) => number,
): { readonly readings: Reading[]; readonly cost: number } {
  if (n === 0) return { readings: [], cost: 0 };
  const own = new Float64Array(n * N);
  const moves = new Float64Array(n * N * N);
  for (let k = 0; k < n; k++) {
    for (let s = 0; s < N; s++) {
      own[k * N + s] = penalty(k, STATES[s]);
      if (k > 0) for (let r = 0; r < N; r++) moves[(k * N + r) * N + s] = move(k, STATES[r], STATES[s]);
    }
  }
  const first = STATES.map((state, s) => begin(state) + own[s]);
  const { path, cost } = leastPath(n, own, moves, first);
  const share = shares(n, own, moves, first);
  return { readings: path.map((s, k) => ({ state: STATES[s], certainty: share[k * N + s] })), cost };
}

function leastPath(
  n: number,
  own: Float64Array,
  moves: Float64Array,
  first: readonly number[],
): { path: number[]; cost: number } {
  const came = new Uint8Array(n * N);
  let cost = Float64Array.from(first);
  for (let k = 1; k < n; k++) {
    const next = new Float64Array(N);
    for (let s = 0; s < N; s++) {
      let best = 0;
      let least = Number.POSITIVE_INFINITY;
      for (let r = 0; r < N; r++) {
        const total = cost[r] + moves[(k * N + r) * N + s];
        if (total < least) {
          least = total;
          best = r;
        }
      }
      next[s] = least + own[k * N + s];
      came[k * N + s] = best;
    }
    cost = next;
  }
  const path = new Array<number>(n);
  const least = Math.min(...cost);
  path[n - 1] = cost.indexOf(least);
  for (let k = n - 1; k > 0; k--) path[k - 1] = came[k * N + path[k]];
  return { path, cost: least };
}

/** Posterior share of each state in each segment. */
function shares(n: number, own: Float64Array, moves: Float64Array, first: readonly number[]): Float64Array {
  const forward = new Float64Array(n * N);
  for (let s = 0; s < N; s++) forward[s] = -first[s];
  const terms = new Float64Array(N);
  for (let k = 1; k < n; k++) {
    for (let s = 0; s < N; s++) {
      for (let r = 0; r < N; r++) terms[r] = forward[(k - 1) * N + r] - moves[(k * N + r) * N + s];
      forward[k * N + s] = logSum(terms) - own[k * N + s];
    }
  }
  const share = new Float64Array(n * N);
  let backward = new Float64Array(N);
  for (let k = n - 1; k >= 0; k--) {
    for (let s = 0; s < N; s++) terms[s] = forward[k * N + s] + backward[s];
    const total = logSum(terms);
    for (let s = 0; s < N; s++) share[k * N + s] = Math.exp(terms[s] - total);
    if (k === 0) break;
    const next = new Float64Array(N);
    for (let r = 0; r < N; r++) {
      for (let s = 0; s < N; s++) terms[s] = backward[s] - own[k * N + s] - moves[(k * N + r) * N + s];
      next[r] = logSum(terms);
    }
    backward = next;
  }
  return share;
}

function logSum(terms: Float64Array): number {
  const most = Math.max(...terms);
  let sum = 0;
  for (const term of terms) sum += Math.exp(term - most);
  return most + Math.log(sum);
}
