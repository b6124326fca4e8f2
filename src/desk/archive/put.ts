/**
 * Files put into the archive from a page. A browser swaps no folders; it writes each file beside the old one and puts it in
 * place when that is closed. So all of a folder are written first and then closed at once: until then what was there is whole.
 */
import { below } from './folder.ts';

/** Names of all in the folder at `path`, in place of what was there. `last` are closed after all others, in this order. */
export async function putFolder(
  root: FileSystemDirectoryHandle,
  path: string,
  files: ReadonlyMap<string, Blob | string>,
  last: readonly string[] = [],
): Promise<void> {
  const folder = await made(root, path.split('/'));
  const open = new Map<string, FileSystemWritableFileStream>();
  try {
    for (const [name, content] of files) {
      const parts = name.split('/');
      const file = await (await made(folder, parts.slice(0, -1))).getFileHandle(parts.at(-1) as string, {
        create: true,
      });
      const stream = await file.createWritable();
      open.set(name, stream);
      await stream.write(content);
    }
  } catch (error) {
    for (const stream of open.values()) await stream.abort().catch(() => {});
    throw error;
  }
  const order = [...[...files.keys()].filter((name) => !last.includes(name)), ...last];
  for (const name of order) await open.get(name)?.close();
  await sweep(folder, new Set(files.keys()), '');
}

/** Takes away what is not of the new files. */
async function sweep(folder: FileSystemDirectoryHandle, wanted: ReadonlySet<string>, before: string): Promise<void> {
  for await (const [name, handle] of folder.entries()) {
    const path = `${before}${name}`;
    if (wanted.has(path)) continue;
    const within = [...wanted].some((one) => one.startsWith(`${path}/`));
    if (handle.kind === 'directory' && within) await sweep(handle as FileSystemDirectoryHandle, wanted, `${path}/`);
    else await folder.removeEntry(name, { recursive: true });
  }
}

/** A single file, unless the same stands there. */
export async function putFile(root: FileSystemDirectoryHandle, path: string, content: string | Blob): Promise<boolean> {
  const parts = path.split('/');
  const name = parts.pop() as string;
  const folder = await made(root, parts);
  const there = await folder.getFileHandle(name).catch(() => null);
  if (there && (await (await there.getFile()).text()) === content) return false;
  const stream = await (await folder.getFileHandle(name, { create: true })).createWritable();
  await stream.write(content);
  await stream.close();
  return true;
}

export async function takeAway(root: FileSystemDirectoryHandle, path: string): Promise<void> {
  const parts = path.split('/');
  const name = parts.pop() as string;
  await (await below(root, parts))?.removeEntry(name, { recursive: true }).catch(() => {});
}

async function made(root: FileSystemDirectoryHandle, parts: readonly string[]): Promise<FileSystemDirectoryHandle> {
  return (await below(root, parts, true)) as FileSystemDirectoryHandle;
}
