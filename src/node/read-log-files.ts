/** The log of a session folder: large ones are read in a thread of their own. */
import { readdirSync, statSync } from 'node:fs';
import { join } from 'node:path';
import type { LogAccount } from '../log/block.ts';
import { type Asked, inSureOrder, readOnce } from '../log/read-log.ts';
import { diskIo } from './disk-io.ts';
import { hasThreads, readInThread, startLogThread } from './log-thread.ts';

/** A thread takes about as long to start as this takes to read. */
const THREAD_BYTES = 24 << 20;

/** As `readLog`, from the disk. */
export async function readLogFiles(asked: Asked): Promise<LogAccount> {
  const inThread = needsThread(asked);
  return inSureOrder(asked, (one) => (inThread ? readInThread(one) : readOnce({ ...one, io: diskIo })));
}

/** Whether the log is large enough to be read in a thread, so that both cores are at it. */
export function needsThread({ session, files }: Pick<Asked, 'session' | 'files'>): boolean {
  return hasThreads && files.reduce((sum, name) => sum + sizeOf(join(session.folder, name)), 0) >= THREAD_BYTES;
}

/** To be called before the program is loaded whole: where one of the folders seems to hold a large log, the thread for it starts at once. */
export function expectLogs(paths: readonly string[]): void {
  if (hasThreads && paths.some((path) => filesIn(path).some((file) => sizeOf(file) >= THREAD_BYTES))) startLogThread();
}

/** The files that lie in a folder and in those within it; of anything else the path itself. */
function filesIn(path: string, deep = 1): string[] {
  try {
    return readdirSync(path, { withFileTypes: true }).flatMap((entry) => {
      const inside = join(path, entry.name);
      if (!entry.isDirectory()) return [inside];
      return deep > 0 ? filesIn(inside, deep - 1) : [];
    });
  } catch {
    return [path];
  }
}

/** A file that cannot be looked at counts as none; that it cannot is said when it is opened. */
function sizeOf(path: string): number {
  try {
    return statSync(path, { throwIfNoEntry: false })?.size ?? 0;
  } catch {
    return 0;
  }
}
