/** A folder of files that takes the place of an earlier one, whole or not at all. */
import { existsSync } from 'node:fs';
import { mkdir, mkdtemp, rename, rm, writeFile } from 'node:fs/promises';
import { dirname, join } from 'node:path';
import { UserError } from '../problem.ts';

/**
 * Writes `PARENT/NAME/…` from relative paths (with `/`) and returns that folder. What was there stays until the new one
 * is whole; one that is stopped between the two renames is put right by the next. Throws a `UserError` where the earlier
 * folder cannot be replaced.
 */
export async function replaceFolder(
  parent: string,
  name: string,
  files: ReadonlyMap<string, string | Uint8Array>,
): Promise<string> {
  const target = join(parent, name);
  const earlier = join(parent, `.${name}.old`);
  await mkdir(parent, { recursive: true });
  if (existsSync(earlier) && !existsSync(target)) await rename(earlier, target);
  const workshop = await mkdtemp(join(parent, `.${name}.new-`));
  try {
    // A folder within: the outer one is readable by its owner alone, which would shut others out of a file share.
    const fresh = join(workshop, name);
    await mkdir(fresh);
    for (const [path, content] of files) {
      await mkdir(dirname(join(fresh, path)), { recursive: true });
      await writeFile(join(fresh, path), content);
    }
    await rm(earlier, { recursive: true, force: true });
    if (existsSync(target)) await rename(target, earlier);
    await rename(fresh, target);
    await rm(earlier, { recursive: true, force: true });
  } catch (error) {
    if (existsSync(earlier) && !existsSync(target)) await rename(earlier, target);
    throw new UserError(`${target} could not be replaced; what was there is still there. (${why(error)})`);
  } finally {
    await rm(workshop, { recursive: true, force: true });
  }
  return target;
}

const why = (error: unknown) => (error instanceof Error ? error.message : String(error));
