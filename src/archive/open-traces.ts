/** What in an archive still shows a session as it was, when its report gives way to a redacted one. */
import { existsSync } from 'node:fs';
import { join } from 'node:path';
import { isOfPair } from './comparison/pairs.ts';
import { comparisonsIn, pairsThere } from './comparison/pairs-there.ts';
import { readInArchive } from './stored.ts';

/**
 * Paths to take away: comparisons with the session, and the tables, which hold every session. Both can be made again from
 * the redacted report. None where the report that is there is redacted already, or where there is none.
 */
export async function openTraces(outDir: string, id: string): Promise<string[]> {
  if (!existsSync(join(outDir, 'sessions', id, 'report.json'))) return [];
  const read = await readInArchive(outDir, id);
  // Of one that cannot be read nobody knows what was shown of it.
  if ('report' in read && read.report.session.redacted) return [];
  const own = (await pairsThere(outDir)).filter((pair) => isOfPair(pair, id));
  const tables = join(outDir, 'tables');
  return [...own.map((pair) => join(comparisonsIn(outDir), pair)), ...(existsSync(tables) ? [tables] : [])];
}
