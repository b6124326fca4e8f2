/** A file that takes the place of an earlier one, whole or not at all. */
import { rm, writeFile } from 'node:fs/promises';
import { basename, dirname, join } from 'node:path';
import { makeFolder } from './make-folder.ts';
import { patientRename } from './patient-rename.ts';

/** Makes the folder where it is missing. The half-written file lies beside it under a name that begins with a point. */
export async function replaceFile(path: string, content: string | Uint8Array): Promise<void> {
  await makeFolder(dirname(path));
  const fresh = join(dirname(path), `.${basename(path)}.new-${process.pid}`);
  try {
    // Left by a process of the same number, or laid there by somebody: never written through.
    await rm(fresh, { recursive: true, force: true });
    await writeFile(fresh, content, { flag: 'wx' });
    await patientRename(fresh, path);
  } catch (error) {
    await rm(fresh, { force: true });
    throw error;
  }
}
