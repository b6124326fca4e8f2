/** Does `work` for every item, `atOnce` at a time; the answers stand in the order of the items. */
export async function inParallel<T, U>(
  items: readonly T[],
  atOnce: number,
  work: (item: T, k: number) => Promise<U>,
): Promise<U[]> {
  const done = new Array<U>(items.length);
  // All workers take from one iterator, each the next item that nobody has yet.
  const waiting = items.entries();
  const worker = async () => {
    for (const [k, item] of waiting) done[k] = await work(item, k);
  };
  await Promise.all(Array.from({ length: atOnce }, worker));
  return done;
}
