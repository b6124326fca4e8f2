/** A folder of files that takes the place of an earlier one, whole or not at all. */
import { existsSync, lstatSync } from 'node:fs';
import { mkdir, mkdtemp, rename, rm, writeFile } from 'node:fs/promises';
import { basename, dirname, join } from 'node:path';
import { UserError } from '../problem.ts';
import { makeFolder } from './make-folder.ts';
import { heldFiles, patientRename } from './patient-rename.ts';

/**
 * Writes `PARENT/NAME/…` from relative paths (with `/`) and returns that folder. What was there stays until the new one
 * is whole; one that is stopped between the two renames is put right by the next. Throws a `UserError` where the earlier
 * folder cannot be replaced.
 *
 * @param folders that are there also when nothing lies in them
 */
export function replaceFolder(
  parent: string,
  name: string,
  files: ReadonlyMap<string, string | Uint8Array>,
  folders: readonly string[] = [],
): Promise<string> {
  return withFreshFolder(join(parent, name), async (fresh) => {
    for (const folder of folders) await mkdir(join(fresh, folder), { recursive: true });
    for (const [path, content] of files) {
      await mkdir(dirname(join(fresh, path)), { recursive: true });
      await writeFile(join(fresh, path), content);
    }
  });
}

/** As `replaceFolder`, for a folder that `fill` fills. */
export async function withFreshFolder(target: string, fill: (fresh: string) => Promise<void>): Promise<string> {
  const [parent, name] = [dirname(target), basename(target)];
  const earlier = join(parent, `.${name}.old`);
  await makeFolder(parent);
  if (existsSync(earlier) && !existsSync(target)) await rename(earlier, target);
  const workshop = await mkdtemp(join(parent, `.${name}.new-`));
  try {
    // A folder within: the outer one is readable by its owner alone, which would shut others out of a file share.
    const fresh = join(workshop, name);
    await mkdir(fresh);
    await fill(fresh);
    await swap(fresh, target, earlier);
  } finally {
    await rm(workshop, { recursive: true, force: true });
  }
  return target;
}

/** Neither Windows nor POSIX renames a folder over a full one: the earlier one steps aside first. */
async function swap(fresh: string, target: string, earlier: string): Promise<void> {
  await rm(earlier, { recursive: true, force: true });
  try {
    // Also a link that leads nowhere.
    if (lstatSync(target, { throwIfNoEntry: false })) await patientRename(target, earlier);
    await patientRename(fresh, target);
  } catch (error) {
    if (existsSync(earlier) && !existsSync(target)) await rename(earlier, target);
    const why = error instanceof Error ? error.message : String(error);
    const held = process.platform === 'win32' ? await heldFiles(target) : [];
    const which =
      held.length > 0
        ? `close ${held.join(', ')}, which another program has open.`
        : 'is one of its files open in another program?';
    throw new UserError(`${target} could not be replaced: ${which} What was there is still there. (${why})`);
  }
  await rm(earlier, { recursive: true, force: true });
}
