/**
 * Renames where another program may have a file open: Windows then refuses, for the moment that a scanner or a viewer takes, or
 * for as long as somebody reads the PDF.
 */
import { open, readdir, rename } from 'node:fs/promises';
import { join } from 'node:path';
import { setTimeout as sleep } from 'node:timers/promises';

/** What Windows says of a file or folder that another program holds. Elsewhere these are said of what no waiting mends. */
const HELD = new Set(['EBUSY', 'EPERM', 'EACCES']);
/** ms between attempts; together a good two seconds. */
const PAUSES_MS = [20, 50, 100, 200, 400, 700, 700];

export interface Renaming {
  readonly rename: (from: string, to: string) => Promise<void>;
  readonly platform: NodeJS.Platform;
  readonly sleep: (ms: number) => Promise<unknown>;
}

const HERE: Renaming = { rename, platform: process.platform, sleep };

export async function patientRename(from: string, to: string, how: Renaming = HERE): Promise<void> {
  for (const pause of how.platform === 'win32' ? PAUSES_MS : []) {
    try {
      return await how.rename(from, to);
    } catch (error) {
      if (!(error instanceof Error && 'code' in error && HELD.has(String(error.code)))) throw error;
      await how.sleep(pause);
    }
  }
  return how.rename(from, to);
}

/** Files below a folder that cannot be opened for writing: those that another program has open, where it keeps others out. */
export async function heldFiles(folder: string): Promise<string[]> {
  const found = await readdir(folder, { withFileTypes: true, recursive: true }).catch(() => []);
  const held: string[] = [];
  for (const file of found.filter((one) => one.isFile())) {
    const path = join(file.parentPath, file.name);
    try {
      await (await open(path, 'r+')).close();
    } catch {
      held.push(path);
    }
  }
  return held.sort();
}
