/** How errors are shown: what the user can mend, on one screen, without a stack; anything else is our bug. */
import { problemLine, UserError } from '../base/problem.ts';
import { plainText } from '../base/shown.ts';

/** More problems than this are counted, not listed. */
const SHOWN = 25;

export function failureText(error: unknown, where?: string): string {
  const head = where ? `${where}: ` : '';
  if (error instanceof UserError) {
    const lines = error.problems.slice(0, SHOWN).map(problemLine);
    const more = error.problems.length - lines.length;
    if (more > 0) lines.push(`and ${more} more`);
    return lines.length === 1 ? `${head}${lines[0]}\n` : `${head}${lines.length} problems\n  ${lines.join('\n  ')}\n`;
  }
  const refused = systemRefusal(error);
  if (refused) return `${head}${refused}\n`;
  const text = error instanceof Error ? error.message : String(error);
  const stack = process.env.STANDSTILL_DEBUG && error instanceof Error ? `\n${error.stack}` : '';
  return `${head}This is a bug in Standstill, not a fault of yours: ${text}. Run again with STANDSTILL_DEBUG=1 for the stack, and report it with the session if you may.${stack}\n`;
}

const WHY: Readonly<Record<string, string>> = {
  EROFS: 'it may only be read',
  ENOSPC: 'there is no room left',
  EACCES: 'permission is denied',
  EPERM: 'permission is denied',
  ENOENT: 'it is not there',
  ENOTDIR: 'a part of its path is no folder',
  EISDIR: 'it is a folder',
  EEXIST: 'there is something of that name already',
  EMFILE: 'too many files are open',
  ENFILE: 'too many files are open',
  ENOMEM: 'there is not enough memory',
  EIO: 'the disk or the share fails',
};

/** What the system would not do with a file: its state is no bug of ours. Undefined for any other error. */
function systemRefusal(error: unknown): string | undefined {
  if (!(error instanceof Error) || !('code' in error) || !('syscall' in error)) return undefined;
  const { code, syscall, path } = error as NodeJS.ErrnoException;
  const where = path === undefined ? '' : `${plainText(path)}: `;
  return `${where}The system refuses "${syscall}": ${WHY[code ?? ''] ?? code} (${code}).`;
}
