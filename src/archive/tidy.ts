/** Puts right what a stopped build left behind. Only while the archive is locked: what is half-written is then nobody's. */
import { existsSync } from 'node:fs';
import { readdir, rename, rm } from 'node:fs/promises';
import { join } from 'node:path';
import { UserError } from '../base/problem.ts';
import { comparisonsIn } from './comparison/pairs-there.ts';
import { refuseLinks } from './no-links.ts';
import { STORE } from './summary/shards.ts';

/** Throws a `UserError` where a folder of the archive is a link, or the folder is somebody else's. Half-written folders and files go; a report that had stepped aside for its successor comes back. */
export async function tidy(outDir: string): Promise<void> {
  refuseLinks(outDir);
  refuseOthers(outDir);
  for (const folder of [outDir, join(outDir, 'sessions'), comparisonsIn(outDir)]) {
    for (const name of await readdir(folder).catch(() => [])) {
      const path = join(folder, name);
      if (/^\..+\.new-/.test(name)) await rm(path, { recursive: true, force: true });
      const [, earlier] = /^\.(.+)\.old$/.exec(name) ?? [];
      if (earlier === undefined) continue;
      if (existsSync(join(folder, earlier))) await rm(path, { recursive: true, force: true });
      else await rename(path, join(folder, earlier));
    }
  }
}

/** A folder with a first page and nothing else of an archive is another's, whose page would be lost. */
function refuseOthers(outDir: string): void {
  const isThere = (name: string) => existsSync(join(outDir, name));
  if (!isThere('index.html') || isThere('sessions') || isThere(STORE)) return;
  const message =
    'This is a page of somebody else’s. Expected: a folder that is new, or an archive that "build" wrote.';
  throw new UserError([{ file: join(outDir, 'index.html'), message }]);
}
