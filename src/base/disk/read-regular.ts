/** Reads files that somebody else may have put where they lie: a pipe would wait for ever, a link may lead anywhere. */
import { constants } from 'node:fs';
import { open } from 'node:fs/promises';

/** Where the system knows no such flag (Windows), opening neither waits nor needs it. */
const WITHOUT_WAITING = constants.O_RDONLY | (constants.O_NONBLOCK ?? 0) | (constants.O_NOFOLLOW ?? 0);

/** The bytes of a regular file; null where there is none, it cannot be read, or the path leads to anything else. */
export async function readRegular(path: string): Promise<Buffer | null> {
  const file = await open(path, WITHOUT_WAITING).catch(() => null);
  if (file === null) return null;
  try {
    return (await file.stat()).isFile() ? await file.readFile() : null;
  } catch {
    return null;
  } finally {
    await file.close();
  }
}
