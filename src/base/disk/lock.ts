/**
 * One writer at a time into an archive, also over a file share. The lock is held for the moment of writing only: two
 * builds analyse side by side, write in turn, and both end up in the archive.
 */
import { randomUUID } from 'node:crypto';
import { lstat, open, readFile, rename, rm, stat, utimes } from 'node:fs/promises';
import { hostname } from 'node:os';
import { join } from 'node:path';
import { setTimeout as sleep } from 'node:timers/promises';
import { UserError } from '../problem.ts';
import { makeFolder } from './make-folder.ts';

/** How long locks live, ms. A lock that nobody has refreshed for `staleMs` of our own watch belongs to a dead writer. */
export interface LockTimes {
  readonly staleMs: number;
  /** Waiting for less than this is no news: writing takes a moment. */
  readonly tellMs: number;
  readonly retryMs: number;
}
/** Its file in the archive. */
export const LOCK = '.lock';
type OnWait = (holder: string, staleS: number) => void;
const TIMES: LockTimes = { staleMs: 30_000, tellMs: 250, retryMs: 25 };

/**
 * Does `work` while nobody else writes into the archive; waits as long as somebody does.
 *
 * @param onWait hears once who is being waited for, and after how many s without a sign of life that one counts as dead
 */
export async function withLock<T>(
  outDir: string,
  work: () => Promise<T>,
  onWait: OnWait = () => {},
  times: LockTimes = TIMES,
): Promise<T> {
  await makeFolder(outDir);
  const path = join(outDir, LOCK);
  const found = await lstat(path).catch(() => null);
  if (found && !found.isFile())
    throw new UserError([
      { file: path, message: 'This should be one of the program’s own files, and is something else. Remove it.' },
    ]);
  const own = JSON.stringify({ pid: process.pid, host: hostname(), id: randomUUID() });
  await take(path, own, onWait, times);
  const refresh = setInterval(() => void utimes(path, new Date(), new Date()).catch(() => {}), times.staleMs / 4);
  try {
    return await work();
  } finally {
    clearInterval(refresh);
    // Not ours any more where we were taken for dead: then it is left to its new holder.
    if ((await textOf(path)) === own) await rm(path, { force: true });
  }
}

async function take(path: string, own: string, onWait: OnWait, times: LockTimes): Promise<void> {
  let seen: { readonly text: string | null; readonly stamp: number } | null = null;
  const began = performance.now();
  let since = began;
  for (let said = false; ; ) {
    if (await make(path, own)) return;
    const now = { text: await textOf(path), stamp: await stampOf(path) };
    if (now.text !== seen?.text || now.stamp !== seen.stamp) {
      // By our own clock: that of a share or of another machine may be off.
      since = performance.now();
      seen = now;
    }
    if (isDead(now.text) || performance.now() - since > times.staleMs) {
      await breakLock(path, now.text);
      continue;
    }
    if (!said && performance.now() - began > times.tellMs) {
      onWait(holderOf(now.text), times.staleMs / 1000);
      said = true;
    }
    await sleep(times.retryMs);
  }
}

/** False where somebody else has it. A disk may have room for the file's name and none for its text: then neither stays. */
async function make(path: string, own: string): Promise<boolean> {
  const file = await open(path, 'wx').catch((error: NodeJS.ErrnoException) => {
    if (error.code === 'EEXIST') return null;
    throw error;
  });
  if (!file) return false;
  try {
    await file.writeFile(own).finally(() => file.close());
    return true;
  } catch (error) {
    await rm(path, { force: true });
    throw error;
  }
}

/** Steps aside first, so that of two that break it only one has it in hand, and a lock that is new is given back. */
async function breakLock(path: string, dead: string | null): Promise<void> {
  const aside = `${path}.stale-${randomUUID()}`;
  try {
    await rename(path, aside);
  } catch {
    return;
  }
  if ((await textOf(aside)) !== dead) await rename(aside, path).catch(() => {});
  else await rm(aside, { force: true });
}

interface Holder {
  readonly pid: number;
  readonly host: string;
}

function holder(text: string | null): Holder | null {
  try {
    const value: unknown = JSON.parse(text ?? '');
    if (typeof value !== 'object' || value === null || !('pid' in value) || !('host' in value)) return null;
    return typeof value.pid === 'number' && typeof value.host === 'string'
      ? { pid: value.pid, host: value.host }
      : null;
  } catch {
    return null;
  }
}

const holderOf = (text: string | null) => {
  const known = holder(text);
  return known ? `process ${known.pid} on ${known.host}` : 'another process';
};

/** True where the holder ran on this machine and does so no more. */
function isDead(text: string | null): boolean {
  const known = holder(text);
  if (!known || known.host !== hostname() || known.pid === process.pid) return false;
  try {
    process.kill(known.pid, 0);
    return false;
  } catch (error) {
    return (error as NodeJS.ErrnoException).code === 'ESRCH';
  }
}

async function textOf(path: string): Promise<string | null> {
  return readFile(path, 'utf8').catch(() => null);
}

async function stampOf(path: string): Promise<number> {
  return stat(path).then(
    ({ mtimeMs }) => mtimeMs,
    () => 0,
  );
}
