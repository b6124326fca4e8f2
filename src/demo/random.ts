/**
 * Random numbers that are the same on every machine: a counter is hashed, so the n-th number of a stream can be asked
 * for without the ones before it. The mixing step is the 32-bit finaliser of MurmurHash3 (A. Appleby, public domain).
 */
function mix(value: number): number {
  let h = value | 0;
  h = Math.imul(h ^ (h >>> 16), 0x85ebca6b);
  h = Math.imul(h ^ (h >>> 13), 0xc2b2ae35);
  return (h ^ (h >>> 16)) >>> 0;
}

/** 32 bits for the `n`-th number of `stream` (both whole numbers). */
export function hash(stream: number, n: number): number {
  const low = mix((n >>> 0) + Math.imul(stream, 0x9e3779b1));
  return mix(low ^ Math.imul(Math.floor(n / 4294967296) + stream, 0x85ebca77));
}

/** In [0, 1). */
export function uniformAt(stream: number, n: number): number {
  return hash(stream, n) / 4294967296;
}

/** Two independent standard normal numbers (Box and Muller) written to `out[0]` and `out[1]`. */
export function normalPairAt(stream: number, n: number, out: Float64Array): void {
  const radius = Math.sqrt(-2 * Math.log((hash(stream, 2 * n) + 1) / 4294967297));
  const angle = (2 * Math.PI * hash(stream, 2 * n + 1)) / 4294967296;
  out[0] = radius * Math.cos(angle);
  out[1] = radius * Math.sin(angle);
}

/** A sequence of draws from one stream, for planning what happens when. */
export interface Random {
  /** In [0, 1). */
  uniform(): number;
  /** In [low, high). */
  between(low: number, high: number): number;
  /** True with this probability. */
  chance(probability: number): boolean;
  normal(): number;
  /** Waiting time of a Poisson process with this mean. */
  wait(mean: number): number;
  pick<T>(list: readonly T[]): T;
}

export function makeRandom(stream: number): Random {
  let n = 0;
  const pair = new Float64Array(2);
  const uniform = () => uniformAt(stream, n++);
  return {
    uniform,
    between: (low, high) => low + (high - low) * uniform(),
    chance: (probability) => uniform() < probability,
    normal: () => {
      normalPairAt(stream + 0x5bd1, n++, pair);
      return pair[0];
    },
    wait: (mean) => -mean * Math.log(1 - uniform()),
    pick: (list) => list[Math.floor(uniform() * list.length)],
  };
}
