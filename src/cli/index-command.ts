/** `standstill index`: the archive's pages again, from the reports that are there; also joins what was built apart. */
import { writeArchiveIndex } from '../archive/index-page.ts';
import { withLock } from '../archive/lock.ts';
import { tidy } from '../archive/tidy.ts';
import { asWriteFault } from '../archive/write-fault.ts';
import { loadContent } from '../report/content.ts';
import { chooseLanguage } from '../report/languages.ts';
import { loadShop } from '../report/shop.ts';
import type { Terminal } from './terminal.ts';

export interface IndexCommandOptions {
  /** The shop's, or English, where not named. */
  readonly language?: string;
}

/** 0: every report is in the index; 1: at least one could not be read, each named. */
export async function index(out: string, options: IndexCommandOptions, terminal: Terminal): Promise<0 | 1> {
  const shop = loadShop(out);
  const content = loadContent(chooseLanguage({ asked: options.language, shop }), shop?.content);
  const work = async () => {
    await tidy(out);
    return writeArchiveIndex(out, { content, pageSize: shop?.pageSize ?? undefined });
  };
  const { damaged } = await withLock(out, work).catch((error: unknown) => {
    throw asWriteFault(error, out);
  });
  for (const { folder, message } of damaged) terminal.err(`${folder}: ${message}\n`);
  return damaged.length > 0 ? 1 : 0;
}
