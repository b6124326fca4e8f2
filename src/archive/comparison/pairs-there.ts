/** The comparisons that lie in an archive, by their names. */
import { readdir } from 'node:fs/promises';
import { join } from 'node:path';

export const comparisonsIn = (outDir: string) => join(outDir, 'comparisons');

/** None where nothing was compared yet. */
export function pairsThere(outDir: string): Promise<string[]> {
  return readdir(comparisonsIn(outDir)).catch(() => []);
}
