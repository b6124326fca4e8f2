/** Reads files that somebody else may have put where they lie: a pipe would wait for ever, a link may lead anywhere. */
import { constants } from 'node:fs';
import { open } from 'node:fs/promises';

/** Where the system knows no such flag (Windows), opening neither waits nor needs it. */
const WITHOUT_WAITING = constants.O_RDONLY | (constants.O_NONBLOCK ?? 0) | (constants.O_NOFOLLOW ?? 0);

/** No file of ours is larger, and a text of more cannot be held. */
const MOST_BYTES = 128 << 20;

/** The bytes of a regular file; null where there is none, it cannot be read or is far too large, or the path leads to anything else. */
export async function readRegular(path: string): Promise<Buffer | null> {
  const file = await open(path, WITHOUT_WAITING).catch(() => null);
  if (file === null) return null;
  try {
    const found = await file.stat();
    return found.isFile() && found.size <= MOST_BYTES ? await file.readFile() : null;
  } catch {
    return null;
  } finally {
    await file.close();
  }
}
