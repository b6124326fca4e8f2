/** A comparison's name: that of its folder in `comparisons/`. */

/** Of the ids of two sessions. */
export const pairName = (before: string, after: string) => `${before}--${after}`;

/** The two ids of a pair; ids may hold hyphens themselves, so that a name alone may be read in more than one way. */
export function idsOfPair(
  pair: string,
  isId: (id: string) => boolean,
): readonly [before: string, after: string] | null {
  for (let at = pair.indexOf('--'); at >= 0; at = pair.indexOf('--', at + 1)) {
    const [before, after] = [pair.slice(0, at), pair.slice(at + 2)];
    if (isId(before) && isId(after)) return [before, after];
  }
  return null;
}

/** Whether the session is one of the two. */
export const isOfPair = (pair: string, id: string) =>
  pair.startsWith(pairName(id, '')) || pair.endsWith(pairName('', id));
