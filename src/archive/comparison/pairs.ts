/** Comparisons of an archive, by the name of the folder that each has in `comparisons/`. */
import { readdir } from 'node:fs/promises';
import { join } from 'node:path';

export const comparisonsIn = (outDir: string) => join(outDir, 'comparisons');

/** Of the ids of two sessions. */
export const pairName = (before: string, after: string) => `${before}--${after}`;

/** Whether the session is one of the two. */
export const isOfPair = (pair: string, id: string) =>
  pair.startsWith(pairName(id, '')) || pair.endsWith(pairName('', id));

/** None where nothing was compared yet. */
export function pairsThere(outDir: string): Promise<string[]> {
  return readdir(comparisonsIn(outDir)).catch(() => []);
}
