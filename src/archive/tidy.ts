/** Puts right what a stopped build left behind. Only while the archive is locked: what is half-written is then nobody's. */
import { existsSync } from 'node:fs';
import { readdir, rename, rm } from 'node:fs/promises';
import { join } from 'node:path';
import { comparisonsIn } from './comparison/pairs-there.ts';
import { refuseLinks } from './no-links.ts';

/** Throws a `UserError` where a folder of the archive is a link. Half-written folders and files go; a report that had stepped aside for its successor comes back. */
export async function tidy(outDir: string): Promise<void> {
  refuseLinks(outDir);
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
