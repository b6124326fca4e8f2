/** What in an archive still shows a session as it was, when its report gives way to a redacted one. */
import { existsSync } from 'node:fs';
import { readdir } from 'node:fs/promises';
import { join } from 'node:path';
import { readStored } from './stored.ts';

/**
 * Paths to take away: comparisons with the session, and the tables, which hold every session. Both can be made again from
 * the redacted report. None where the report that is there is redacted already, or where there is none.
 */
export async function openTraces(outDir: string, id: string): Promise<string[]> {
  const read = await readStored(join(outDir, 'sessions', id), id);
  if ('message' in read || read.report.session.redacted) return [];
  const pairs = await readdir(join(outDir, 'comparisons')).catch(() => []);
  const own = pairs.filter((pair) => pair.startsWith(`${id}--`) || pair.endsWith(`--${id}`));
  return [...own.map((pair) => join(outDir, 'comparisons', pair)), join(outDir, 'tables')].filter((path) =>
    existsSync(path),
  );
}
