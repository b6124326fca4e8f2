/** A comparison's name: that of its folder in `comparisons/`. */

/** Of the ids of two sessions. */
export const pairName = (before: string, after: string) => `${before}--${after}`;

/** Whether the session is one of the two. */
export const isOfPair = (pair: string, id: string) =>
  pair.startsWith(pairName(id, '')) || pair.endsWith(pairName('', id));
