/** Links inside an archive are never followed: what they lead to is somebody else's, and would be written or deleted. */
import { join } from 'node:path';
import { nodeFiles } from '../base/disk/node-files.ts';
import { UserError } from '../base/problem.ts';

const FOLDERS = ['sessions', 'vehicles', 'months', 'models', 'comparisons', 'tables', '.summaries'];

/** Throws a `UserError` that names every folder of the archive that is a link. */
export function refuseLinks(outDir: string): void {
  const links = FOLDERS.map((name) => join(outDir, name)).filter(nodeFiles.isLink);
  if (links.length === 0) return;
  const message = 'This is a link, and links inside an archive are not followed. Expected: a folder.';
  throw new UserError(links.map((file) => ({ file, message })));
}
