/** The log of a session folder: large ones are read in a thread of their own. */
import { stat } from 'node:fs/promises';
import { join } from 'node:path';
import type { LogAccount } from '../log/block.ts';
import { type Asked, inSureOrder, readOnce } from '../log/read-log.ts';
import type { Session } from '../manifest/session.ts';
import { diskIo } from './disk-io.ts';
import { hasThreads, readInThread } from './log-thread.ts';

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

/** A file that cannot be looked at counts as none; that it cannot is said when it is opened. */
async function bytesOf({ folder }: Session, files: readonly string[]): Promise<number> {
  const sizes = files.map(async (name) => (await stat(join(folder, name)).catch(() => undefined))?.size ?? 0);
  return (await Promise.all(sizes)).reduce((sum, size) => sum + size, 0);
}
