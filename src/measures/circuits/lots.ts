/** Lots for permutation tests: the same numbers in every run and on every machine (xorshift, Marsaglia 2003, from memory). */

/** Draws evenly from [0, 1). `stream`: any whole number but 0. */
export function lots(stream: number): () => number {
  let state = stream | 0;
  return () => {
    state ^= state << 13;
    state ^= state >>> 17;
    state ^= state << 5;
    return (state >>> 0) / 4_294_967_296;
  };
}
