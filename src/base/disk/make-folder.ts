/**
 * A folder with all that lead to it. Node's own way asks without end where a file system makes none, and says neither yes nor
 * no: below `/proc`, for example.
 */
import { mkdir, stat } from 'node:fs/promises';
import { dirname } from 'node:path';

/** Throws what the system says where it cannot be made, also where something else than a folder is in the way. */
export async function makeFolder(path: string, mode?: number): Promise<void> {
  try {
    await mkdir(path, { mode });
  } catch (error) {
    // Made by another, or there all along: a drive or a share may refuse to make what is there with a word of its own.
    if (await isFolder(path)) return;
    const above = dirname(path);
    if ((error as NodeJS.ErrnoException).code !== 'ENOENT' || above === path || (await isFolder(above))) throw error;
    await makeFolder(above, mode);
    await makeFolder(path, mode);
  }
}

const isFolder = (path: string): Promise<boolean> =>
  stat(path).then(
    (found) => found.isDirectory(),
    () => false,
  );
