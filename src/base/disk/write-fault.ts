/** What a disk or a share may refuse, in words that say what to do. */
import { UserError } from '../problem.ts';

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
  const code = error instanceof Error && 'code' in error ? String(error.code) : '';
  const why = WHY[code];
  return why ? new UserError(`${outDir} cannot be written: ${why} (${code}). What was there is still whole.`) : error;
}
