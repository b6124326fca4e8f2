/** The archive's pages on disk, from the `report.json` files that are there. */
import { rm } from 'node:fs/promises';
import { join } from 'node:path';
import { UserError } from '../base/problem.ts';
import { loadContent } from '../node/content.ts';
import { drawSvg } from '../node/drawer.ts';
import type { Content } from '../report/words/content.ts';
import { pairsThere } from './comparison/pairs-there.ts';
import { archivePages } from './pages/archive-pages.ts';
import { madeFrom } from './pages/page.ts';
import { openPages } from './pages/written.ts';
import type { Archive } from './stored-report.ts';
import { STORE } from './summary/shards.ts';
import { readSummaries } from './summary/store.ts';

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
  /** Hash of the tool and of what the shop brings. With it what has not changed is left as it is; without it all is made. */
  readonly key?: string;
  /** The desk lies beside the index, which then names it. */
  readonly desk?: boolean;
}

/** A report that cannot be used is named on the page and in the answer. */
export async function writeArchiveIndex(outDir: string, options: IndexOptions = {}): Promise<ArchiveIndex> {
  try {
    return await writePages(outDir, options);
  } catch (error) {
    if (options.key === undefined || error instanceof UserError || isOfDisk(error)) throw error;
    // What was kept of an earlier index may be of somebody else's making: without it, all is made from the reports.
    await rm(join(outDir, STORE), { recursive: true, force: true });
    return writePages(outDir, options);
  }
}

const isOfDisk = (error: unknown) => error instanceof Error && 'code' in error;

async function writePages(outDir: string, options: IndexOptions): Promise<ArchiveIndex> {
  const { content = loadContent('en'), pageSize = 'a4', key, desk } = options;
  const { entries, damaged } = await readSummaries(outDir, key ?? null);
  const pages = await openPages(outDir, key === undefined ? null : madeFrom(key, content.language, pageSize));
  const compared = await pairsThere(outDir);
  await archivePages({ sessions: entries, damaged, compared }, { content, pageSize, desk, drawSvg }, pages.put);
  await pages.finish();
  return { sessions: entries.length, damaged };
}
