/** What a disk or a share may refuse, in words that say what to do. */
import { basename } from 'node:path';
import { UserError } from '../problem.ts';
import { LOCK } from './lock.ts';

const WHY: Readonly<Record<string, string>> = {
  ENOSPC: 'there is no room left on it',
  EDQUOT: 'the quota there is used up',
  EFBIG: 'a file there may not become so large',
  EIO: 'the disk or the share fails',
  EROFS: 'it may only be read',
  EACCES: 'you may not write there',
  EPERM: 'you may not write there',
  ENOTDIR: 'a file is in the way where a folder must be',
  EEXIST: 'a file is in the way where a folder must be',
  EISDIR: 'a folder is in the way where a file must be',
  ENAMETOOLONG: 'its path is too long',
  ELOOP: 'its links lead in a circle',
  EMFILE: 'too many files are open',
  EBUSY: 'a file there is open in another program',
};

/** The same error, or a `UserError` where the disk says no. What was in the archive is still there in either case. */
export function asWriteFault(error: unknown, outDir: string): unknown {
  const { code = '' } = error instanceof Error ? (error as NodeJS.ErrnoException) : {};
  const why = makesNothing(error) ? 'nothing can be made there' : WHY[code];
  return why ? new UserError(`${outDir} cannot be written: ${why} (${code}). What was there is still whole.`) : error;
}

/** A file system that keeps none of our files (`/proc`), or a share that is away, says that the new thing is not there. */
function makesNothing(error: unknown): boolean {
  const { code, syscall, path = '' } = error as NodeJS.ErrnoException;
  return code === 'ENOENT' && (syscall === 'mkdir' || basename(path) === LOCK);
}
