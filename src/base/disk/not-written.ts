/** A file that the system would not let us write is the user's to mend; anything else stays a bug. */
import { UserError } from '../problem.ts';
import { plainText } from '../shown.ts';

const REASONS: Readonly<Record<string, string>> = {
  EACCES: 'no permission to write there',
  EPERM: 'no permission to write there',
  EROFS: 'nothing can be written there',
  ENOENT: 'its folder is not there',
  ENOTDIR: 'a part of its path is no folder',
  EISDIR: 'there is a folder of that name',
  EEXIST: 'there is one already',
  ENOSPC: 'the disk is full',
  ENAMETOOLONG: 'its name is too long',
};

/** What to throw in place of `error`, which came up while `path` was written. */
export function notWritten(path: string, error: unknown): unknown {
  const { code } = error as NodeJS.ErrnoException;
  if (error instanceof UserError || code === undefined) return error;
  return new UserError([{ file: plainText(path), message: `It cannot be written: ${REASONS[code] ?? code}.` }]);
}
