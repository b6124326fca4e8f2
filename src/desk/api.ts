/** The page's one function for scripts and tests. */
import { givenOf } from './files.ts';
import type { BuildOptions } from './street.ts';
import { type Watching, work } from './work.ts';

export interface BuiltFile {
  /** In the archive, such as `sessions/ID/report.json`. */
  readonly path: string;
  readonly blob: Blob;
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
  const { onProgress, signal, ...how } = options;
  const built = await work<{ readonly files: readonly BuiltFile[] }>(
    { kind: 'build', given: givenOf(files), options: how },
    { onProgress, signal },
  );
  return built.files;
}
