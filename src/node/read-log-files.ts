/** The log of a session folder: large ones are read in a thread of their own. */
import { readdirSync, statSync } from 'node:fs';
import { stat } from 'node:fs/promises';
import { join } from 'node:path';
import type { LogAccount } from '../log/block.ts';
import { type Asked, inSureOrder, readOnce } from '../log/read-log.ts';
import type { Session } from '../manifest/session.ts';
import { diskIo } from './disk-io.ts';
import { hasThreads, readInThread, startLogThread } from './log-thread.ts';

/** A thread takes about as long to start as this takes to read. */
const THREAD_BYTES = 24 << 20;

/** As `readLog`, from the disk. */
export async function readLogFiles(asked: Asked): Promise<LogAccount> {
  const inThread = await needsThread(asked);
  return inSureOrder(asked, (one) => (inThread ? readInThread(one) : readOnce({ ...one, io: diskIo })));
}

/** Whether the log is large enough to be read in a thread, so that both cores are at it. */
export async function needsThread({ session, files }: Pick<Asked, 'session' | 'files'>): Promise<boolean> {
  return hasThreads && (await bytesOf(session, files)) >= THREAD_BYTES;
}

/** To be called before the program is loaded whole: where one of the folders seems to hold a large log, the thread for it starts at once. */
export function expectLogs(paths: readonly string[]): void {
  if (hasThreads && paths.some((path) => filesIn(path).some((file) => sizeOf(file) >= THREAD_BYTES))) startLogThread();
}

/** The files that lie in a folder; of anything else the path itself. What is off with either is told by whoever reads it. */
function filesIn(path: string): string[] {
  try {
    return readdirSync(path).map((name) => join(path, name));
  } catch {
    return [path];
  }
}

function sizeOf(path: string): number {
  try {
    return statSync(path, { throwIfNoEntry: false })?.size ?? 0;
  } catch {
    return 0;
  }
}

/** A file that cannot be looked at counts as none; that it cannot is said when it is opened. */
async function bytesOf({ folder }: Session, files: readonly string[]): Promise<number> {
  const sizes = files.map(async (name) => (await stat(join(folder, name)).catch(() => undefined))?.size ?? 0);
  return (await Promise.all(sizes)).reduce((sum, size) => sum + size, 0);
}
