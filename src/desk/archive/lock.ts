/**
 * The archive's lock (`base/disk/lock.ts`), taken from a page. A browser makes no file "only if there is none": between the
 * look and the making another writer may come, so what stands in the file is read back before anything else is written.
 */
import { UserError } from '../../base/problem.ts';

const LOCK = '.lock';
/** As on the command line: a lock that nobody has refreshed for so long, by our own watch, belongs to a dead writer. */
const STALE_MS = 30_000;
const REFRESH_MS = 7_500;
const RETRY_MS = 250;
/** Another writer's text stands in the file by then. */
const SETTLE_MS = 50;

/** @param onWait hears, once, that somebody else is writing */
export async function withLock<T>(
  root: FileSystemDirectoryHandle,
  work: () => Promise<T>,
  onWait: () => void,
): Promise<T> {
  const own = JSON.stringify({ pid: 0, host: 'desk', id: crypto.randomUUID() });
  await take(root, own, onWait);
  const refresh = setInterval(() => void write(root, own).catch(() => {}), REFRESH_MS);
  try {
    return await work();
  } finally {
    clearInterval(refresh);
    if ((await seen(root))?.text === own) await root.removeEntry(LOCK);
  }
}

async function take(root: FileSystemDirectoryHandle, own: string, onWait: () => void): Promise<void> {
  let last: string | null = null;
  let since = 0;
  for (let told = false; ; ) {
    const now = await seen(root);
    if (now === null || (now.stamp === last && performance.now() - since > STALE_MS)) {
      await write(root, own);
      await sleep(SETTLE_MS);
      if ((await seen(root))?.text === own) return;
      continue;
    }
    if (now.stamp !== last) [last, since] = [now.stamp, performance.now()];
    if (!told) onWait();
    told = true;
    await sleep(RETRY_MS);
  }
}

async function seen(
  root: FileSystemDirectoryHandle,
): Promise<{ readonly text: string; readonly stamp: string } | null> {
  const handle = await root.getFileHandle(LOCK).catch((error: unknown) => {
    if (error instanceof DOMException && error.name === 'TypeMismatchError')
      throw new UserError([
        { file: LOCK, message: 'This should be one of the program’s own files, and is something else. Remove it.' },
      ]);
    return null;
  });
  const file = await handle?.getFile().catch(() => null);
  if (!file) return null;
  const text = await file.text().catch(() => '');
  return { text, stamp: `${file.lastModified} ${text}` };
}

async function write(root: FileSystemDirectoryHandle, text: string): Promise<void> {
  const stream = await (await root.getFileHandle(LOCK, { create: true })).createWritable();
  await stream.write(text);
  await stream.close();
}

const sleep = (ms: number) => new Promise((resolve) => setTimeout(resolve, ms));
