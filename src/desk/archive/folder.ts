/** The archive's folder as a page has it: with leave to write, or as the list of its files. */
import type { ArchiveOf } from '../../archive/baseline.ts';
import { storedOf, underItsId } from '../../archive/stored-report.ts';
import type { Given } from '../files.ts';

/** Both can be sent to a worker. */
export type ArchiveSource = FileSystemDirectoryHandle | readonly Given[];

export interface ArchiveFolder {
  /** Null where there is no such file. */
  file(path: string): Promise<Blob | null>;
  /** Folders and files in a folder, in order of names; none where it is not there. */
  names(path: string): Promise<string[]>;
}

export const folderOf = (source: ArchiveSource): ArchiveFolder =>
  'kind' in source ? ofHandle(source) : ofFiles(source);

/** What stands before `sessions/` in the paths of chosen files is left out. */
export function archiveFiles(files: Iterable<File>): Given[] {
  return [...files].flatMap((file) => {
    const path = (file.webkitRelativePath || file.name).replaceAll('\\', '/');
    const [, within] = /(?:^|\/)((?:sessions|comparisons)\/.*)$/.exec(path) ?? [];
    return within === undefined ? [] : [{ path: within, file }];
  });
}

/** Ids of the sessions that have a report, in order. */
export async function sessionsIn(folder: ArchiveFolder): Promise<string[]> {
  const names = (await folder.names('sessions')).filter((name) => !name.startsWith('.'));
  const there = await Promise.all(names.map((name) => folder.file(`sessions/${name}/report.json`)));
  return names.filter((_, k) => there[k] !== null);
}

/** As `withBaseline` asks it. */
export const archiveOf = (folder: ArchiveFolder, name: string): ArchiveOf => ({
  name,
  async read(id) {
    const file = await folder.file(`sessions/${id}/report.json`);
    return file && underItsId(storedOf(await file.text(), id));
  },
});

function ofFiles(given: readonly Given[]): ArchiveFolder {
  const files = new Map(given.map(({ path, file }) => [path, file]));
  return {
    file: async (path) => files.get(path) ?? null,
    async names(path) {
      const below = [...files.keys()].filter((name) => name.startsWith(`${path}/`));
      return [...new Set(below.map((name) => name.slice(path.length + 1).replace(/\/.*/, '')))].sort();
    },
  };
}

function ofHandle(root: FileSystemDirectoryHandle): ArchiveFolder {
  return {
    async file(path) {
      const parts = path.split('/');
      const name = parts.pop() as string;
      const folder = await below(root, parts);
      const handle = await folder?.getFileHandle(name).catch(() => null);
      return (await handle?.getFile().catch(() => null)) ?? null;
    },
    async names(path) {
      const folder = await below(root, path === '' ? [] : path.split('/'));
      const names: string[] = [];
      for await (const name of folder?.keys() ?? []) names.push(name);
      return names.sort();
    },
  };
}

/** Null where it is not there; made where that is asked for. */
export async function below(
  root: FileSystemDirectoryHandle,
  parts: readonly string[],
  create = false,
): Promise<FileSystemDirectoryHandle | null> {
  let folder: FileSystemDirectoryHandle | null = root;
  for (const part of parts) folder = (await folder?.getDirectoryHandle(part, { create }).catch(absent)) ?? null;
  return folder;
}

function absent(error: unknown): null {
  if (error instanceof DOMException && ['NotFoundError', 'TypeMismatchError'].includes(error.name)) return null;
  throw error;
}
