/** How errors are shown: what the user can mend, on one screen, without a stack; anything else is our bug. */
import { problemLine, UserError } from '../base/problem.ts';

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
  const told = error instanceof Error ? error.message : String(error);
  const stack = process.env.STANDSTILL_DEBUG && error instanceof Error ? `\n${error.stack}` : '';
  return `${head}This is a bug in Standstill, not a fault of yours: ${told}. Run again with STANDSTILL_DEBUG=1 for the stack, and report it with the session if you may.${stack}\n`;
}
