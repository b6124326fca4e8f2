/** What was made is kept: in the archive's folder where the browser may write there, or as one file. */
import { zipSync } from 'fflate';
import type { BuiltFile } from '../api.ts';

interface PickerWindow {
  showDirectoryPicker?(options: { readonly mode: 'readwrite' }): Promise<FileSystemDirectoryHandle>;
}

export const mayWriteFolders = (): boolean => 'showDirectoryPicker' in window;

export class Busy extends Error {}

/** Writes the tree into a folder that the person chooses; null where they choose none. Gives the folder's name. */
export async function keepInFolder(files: readonly BuiltFile[]): Promise<string | null> {
  const root = await (window as PickerWindow)
    .showDirectoryPicker?.({ mode: 'readwrite' })
    .catch((error: DOMException) => {
      if (error.name === 'AbortError') return null;
      throw error;
    });
  if (!root) return null;
  // The lock of the command line: a text of its own, whose holder refreshes it.
  if (await root.getFileHandle('.lock').catch(() => null)) throw new Busy();
  const lock = await root.getFileHandle('.lock', { create: true });
  await write(lock, JSON.stringify({ pid: 0, host: 'desk', id: crypto.randomUUID() }));
  try {
    // The index knows this session alone: the archive's own, if there is one, stays, and `standstill index` brings it up to date.
    const archive = await root.getFileHandle('index.html').catch(() => null);
    for (const { path, blob } of files) {
      if (archive && !path.startsWith('sessions/')) continue;
      const parts = path.split('/');
      const name = parts.pop() as string;
      let folder = root;
      for (const part of parts) folder = await folder.getDirectoryHandle(part, { create: true });
      await write(await folder.getFileHandle(name, { create: true }), blob);
    }
  } finally {
    await root.removeEntry('.lock');
  }
  return root.name;
}

async function write(file: FileSystemFileHandle, content: Blob | string): Promise<void> {
  const stream = await file.createWritable();
  await stream.write(content);
  await stream.close();
}

/** The same tree as one file; of one content, the same bytes. */
export async function zipOf(files: readonly BuiltFile[]): Promise<Blob> {
  const entries = await Promise.all(
    files.map(async ({ path, blob }) => [path, new Uint8Array(await blob.arrayBuffer())] as const),
  );
  // 1 January 1980 in local time: the earliest that the form knows.
  const zipped = zipSync(Object.fromEntries(entries), { level: 6, mtime: new Date(1980, 0, 1) });
  return new Blob([zipped], { type: 'application/zip' });
}
