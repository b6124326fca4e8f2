/** The files that a page was given, as the tree and the logs that the street reads. Only a worker may read them at once. */
import type { Files } from '../base/files.ts';

/** A file and its path in the session's folder. */
export interface Given {
  readonly path: string;
  readonly file: Blob & { readonly lastModified?: number };
}

/** Where the session's folder is said to lie. */
export const ROOT = '/session';

/** As a browser's file list names them; what stands before the folder of `session.yaml` is left out. */
export function givenOf(files: Iterable<File>): Given[] {
  const named = [...files].map((file) => ({
    path: (file.webkitRelativePath || file.name).replaceAll('\\', '/'),
    file,
  }));
  const manifest = named
    .map(({ path }) => path)
    .filter((path) => path === MANIFEST || path.endsWith(`/${MANIFEST}`))
    .sort((a, b) => a.split('/').length - b.split('/').length)[0];
  const before = manifest?.slice(0, -MANIFEST.length) ?? '';
  return named.flatMap(({ path, file }) =>
    path.startsWith(before) ? [{ path: path.slice(before.length), file }] : [],
  );
}

const MANIFEST = 'session.yaml';

export function filesOf(given: readonly Given[]): Files {
  const files = new Map(given.map(({ path, file }) => [`${ROOT}/${path}`, file]));
  const folders = new Set([...files.keys()].flatMap((path) => foldersAbove(path)));
  folders.add(ROOT);
  const reader = new FileReaderSync();
  return {
    readFile: (path) => bytesOf(reader, files.get(path) ?? missing(path)),
    stat(path) {
      const file = files.get(path);
      if (file) return { kind: 'file', bytes: file.size };
      return folders.has(path) ? { kind: 'folder', bytes: 0 } : undefined;
    },
    isLink: () => false,
    realpath: (path) => path,
    readdir: (path) => [
      ...new Set(
        [...files.keys()].flatMap((name) =>
          name.startsWith(`${path}/`) ? name.slice(path.length + 1).split('/', 1) : [],
        ),
      ),
    ],
  };
}

function foldersAbove(path: string): string[] {
  const parts = path.split('/');
  return parts.slice(2).map((_, k) => parts.slice(0, k + 2).join('/'));
}

/** A file that has changed or gone since it was chosen is refused as a disk refuses it. */
function bytesOf(reader: FileReaderSync, file: Blob): Uint8Array {
  try {
    return new Uint8Array(reader.readAsArrayBuffer(file));
  } catch (error) {
    return asRefusal(error);
  }
}

export function asRefusal(error: unknown): never {
  throw refusal(error instanceof DOMException && error.name === 'NotFoundError' ? 'ENOENT' : 'EIO');
}

export function missing(path: string): never {
  throw refusal('ENOENT', path);
}

function refusal(code: string, path = ''): Error {
  return Object.assign(new Error(`${code} ${path}`), { code, syscall: 'read' });
}
