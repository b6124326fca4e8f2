/** The reports of an archive on disk. */
import { existsSync } from 'node:fs';
import { readdir } from 'node:fs/promises';
import { join } from 'node:path';
import { readRegular } from '../base/disk/read-regular.ts';
import { inParallel } from '../base/in-parallel.ts';
import type { ArchiveOf } from './baseline.ts';
import { type Archive, type Read, storedOf, underItsId } from './stored-report.ts';

/** Files that are read at once; more only wait for each other. */
const AT_ONCE = 16;

/** Every session of an archive; an archive that is not there yet has none. */
export async function readArchive(outDir: string): Promise<Archive> {
  const folders = await sessionFolders(outDir);
  const read = await inParallel(folders, AT_ONCE, (folder) => readInArchive(outDir, folder));
  return {
    sessions: read.flatMap((one) => ('report' in one ? [one] : [])),
    damaged: read.flatMap((one) => ('report' in one ? [] : [one])),
  };
}

/** The report of a session of the archive. */
export async function readInArchive(outDir: string, folder: string): Promise<Read> {
  return underItsId(await readStored(join(outDir, 'sessions', folder), folder));
}

/** The report in `path`, a folder with a `report.json`; `folder` is how it is called in the answer. */
export async function readStored(path: string, folder: string): Promise<Read> {
  const bytes = await readRegular(join(path, 'report.json'));
  return storedOf(bytes?.toString('utf8') ?? null, folder);
}

/** The archive in a folder, as `withBaseline` asks it. */
export const archiveIn = (outDir: string): ArchiveOf => ({
  name: outDir,
  read: async (id) => (existsSync(join(outDir, 'sessions', id)) ? readInArchive(outDir, id) : null),
});

/** Folders in `sessions/`, but for those that a build is still writing. */
export async function sessionFolders(outDir: string): Promise<string[]> {
  const found = await readdir(join(outDir, 'sessions'), { withFileTypes: true }).catch(() => []);
  return found.flatMap((one) => (one.isDirectory() && !one.name.startsWith('.') ? [one.name] : [])).sort();
}
