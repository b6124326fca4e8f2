/** The page's one function for scripts and tests. */
import { givenOf } from './files.ts';
import { DESK } from './html.ts';
import type { BuildOptions, Built } from './street.ts';
import { ownFile, type Watching, work } from './work.ts';

export interface BuiltFile {
  /** In the archive, such as `sessions/ID/report.json`. */
  readonly path: string;
  readonly blob: Blob;
}

export interface BuiltTree extends Omit<Built, 'files'> {
  readonly files: readonly BuiltFile[];
}

/**
 * The tree that `standstill build --no-pdf` writes under `out/`, of one session.
 *
 * @param files as a browser's file list gives them, `session.yaml` among them: `webkitRelativePath`, or the name, is the path
 * in the session's folder
 * @throws UserError with the messages of `standstill check` where the session cannot be reported
 */
export async function build(
  files: Iterable<File>,
  options: BuildOptions & Watching = {},
): Promise<readonly BuiltFile[]> {
  return (await buildTree(files, options)).files;
}

/** The same, with what an archive asks of a session that is put into it. */
export async function buildTree(files: Iterable<File>, options: BuildOptions & Watching): Promise<BuiltTree> {
  const { onProgress, onWait, signal, ...how } = options;
  const built = await work<BuiltTree>(
    { kind: 'build', given: givenOf(files), options: how },
    { onProgress, onWait, signal },
  );
  return { ...built, files: [...built.files, { path: DESK, blob: ownFile() }] };
}
