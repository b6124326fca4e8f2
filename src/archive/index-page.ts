/** `out/index.html` and a page a vehicle, from the `report.json` files that are there. */
import { join } from 'node:path';
import { replaceFile } from '../base/disk/write-file.ts';
import { loadContent } from '../node/content.ts';
import type { Content } from '../report/words/content.ts';
import { indexPages } from './index-pages.ts';
import { readArchive } from './stored.ts';
import type { Archive } from './stored-report.ts';
import { writeVehiclePages } from './vehicles/vehicle-pages.ts';
import { vehiclesOf } from './vehicles/vehicles.ts';

export interface ArchiveIndex {
  /** Sessions in the table. */
  readonly sessions: number;
  /** Folders whose `report.json` could not be used, with what is wrong. */
  readonly damaged: Archive['damaged'];
}

export interface IndexOptions {
  /** Words of the pages; ours in English where not given. */
  readonly content?: Content;
  readonly pageSize?: 'a4' | 'letter';
}

/** A report that cannot be used is named on the page and in the answer. */
export async function writeArchiveIndex(outDir: string, options: IndexOptions = {}): Promise<ArchiveIndex> {
  const { content = loadContent('en'), pageSize = 'a4' } = options;
  const archive = await readArchive(outDir);
  const vehicles = vehiclesOf(archive.sessions.map(({ report }) => report));
  const pages = indexPages(archive, vehicles, { content, pageSize });
  await replaceFile(join(outDir, 'archive.css'), pages.get('archive.css') ?? '');
  await writeVehiclePages(outDir, vehicles, content);
  for (const [path, text] of pages) await replaceFile(join(outDir, path), text);
  return { sessions: archive.sessions.length, damaged: archive.damaged };
}
