/**
 * Which session folders have arrived whole. A copy over a network is slow and gives no sign when it is done: a folder is
 * taken as whole once nothing in it has changed for a while. Where that was too early, the rest of the copy changes it
 * again, and it comes up again.
 */
export interface Arrivals {
  /**
   * Folders that are whole and have not been handed out as they are now.
   *
   * @param seen each folder with a print of what is in it: names, sizes and times
   * @param nowMs a clock that only goes forward
   */
  look(seen: ReadonlyMap<string, string>, nowMs: number): string[];

  /** Has a folder handed out once more by the next look that finds it whole; false where the last look did not see it. */
  again(folder: string): boolean;
}

interface Known {
  readonly print: string;
  readonly sinceMs: number;
  readonly handedOut: boolean;
}

export function createArrivals(settleMs: number): Arrivals {
  const known = new Map<string, Known>();
  return {
    look(seen, nowMs) {
      // A folder that is gone is forgotten, so that days of watching do not fill memory and it may come again.
      for (const folder of known.keys()) if (!seen.has(folder)) known.delete(folder);
      const whole: string[] = [];
      for (const [folder, print] of seen) {
        const before = known.get(folder);
        const same = before?.print === print ? before : { print, sinceMs: nowMs, handedOut: false };
        const ready = !same.handedOut && nowMs - same.sinceMs >= settleMs;
        if (ready) whole.push(folder);
        known.set(folder, { ...same, handedOut: same.handedOut || ready });
      }
      return whole.sort();
    },
    again(folder) {
      const before = known.get(folder);
      if (before) known.set(folder, { ...before, handedOut: false });
      return before !== undefined;
    },
  };
}
