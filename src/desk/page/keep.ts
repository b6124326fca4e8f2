/** What was made is kept: in the archive's folder where the browser may write there, or as one file. */
import type { BuiltTree } from '../api.ts';
import type { Kept, Taken } from '../archive/keep.ts';
import { ownFile, work } from '../work.ts';
import type { Desk } from './desk.ts';
import type { ArchiveChoice } from './state.ts';

interface PickerWindow {
  showDirectoryPicker?(options: {
    readonly id: string;
    readonly mode: 'readwrite';
  }): Promise<FileSystemDirectoryHandle>;
}

export const mayWriteFolders = (): boolean => 'showDirectoryPicker' in window;

/** The folder that a person chooses, with leave to write; null where they choose none. */
export async function chooseFolder(): Promise<FileSystemDirectoryHandle | null> {
  const picked = (window as PickerWindow).showDirectoryPicker?.({ id: 'archive', mode: 'readwrite' });
  return (
    (await picked?.catch((error: DOMException) => {
      if (error.name === 'AbortError') return null;
      throw error;
    })) ?? null
  );
}

/** Chooses the archive's folder where none was chosen yet. */
export async function archiveToWrite(desk: Desk): Promise<FileSystemDirectoryHandle | null> {
  const { archive } = desk.state;
  if (archive && 'kind' in archive.source) return archive.source;
  const root = await chooseFolder();
  if (root) await desk.useArchive(root.name, root);
  return root;
}

/** Null where it was kept. */
export async function keepInArchive(
  root: FileSystemDirectoryHandle,
  built: BuiltTree,
  replace: boolean,
  onWait: () => void,
): Promise<Taken | null> {
  const before = `sessions/${built.id}/`;
  const own = built.files.filter(({ path }) => path.startsWith(before));
  const { id, key, logHashes, told, redacted } = built;
  const files = new Map(own.map(({ path, blob }) => [path.slice(before.length), blob]));
  const kept: Kept = { id, key, logHashes, told, redacted, files, desk: ownFile() };
  return work<Taken | null>({ kind: 'keep', root, kept, replace }, { onWait });
}

/** The same tree as one file; of one content, the same bytes. */
export const zipOf = ({ files, id }: BuiltTree, archive: ArchiveChoice | null): Promise<Blob> =>
  work<Blob>({ kind: 'zip', files, id, archive: archive?.source });
