/** What this machine has to print a page and to read the print with. */
import { execFileSync } from 'node:child_process';
import { findBrowsers, thisHost } from '../../src/report/pdf/browser-find.ts';

/** An installed browser; undefined where there is none. Starting the embedded one has tests of its own. */
export const browserPath = findBrowsers(thisHost()).candidates.find((one) => one.path !== undefined)?.path;
if (!browserPath) console.warn('No browser on this machine: the tests that need one are skipped.');

/** Whether a program is there to run. */
export function isHere(program: string): boolean {
  try {
    execFileSync(program, ['-v'], { stdio: 'ignore' });
    return true;
  } catch (error) {
    return (error as NodeJS.ErrnoException).code !== 'ENOENT';
  }
}
