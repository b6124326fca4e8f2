/** `standstill desk`: the whole job in one page, for whoever has no terminal. */
import { toolKey } from '../archive/made-from.ts';
import { asWriteFault } from '../base/disk/write-fault.ts';
import { languagesThere } from '../node/content.ts';
import { loadShop, shopKey } from '../node/shop.ts';
import { VERSION } from '../node/version.ts';
import { chooseLanguage } from '../report/words/languages.ts';
import { writeDesk } from './desk-page.ts';
import type { Terminal } from './terminal.ts';

export interface DeskOptions {
  readonly out: string;
  /** In which it opens; the shop's where not named, and its reader's where the shop names none. */
  readonly language?: string;
}

/** Writes it beside the archive, with the shop's face, as `build` and `index` do. */
export async function desk(options: DeskOptions, terminal: Terminal): Promise<0> {
  const shop = loadShop(options.out);
  const language = options.language ?? shop?.language ?? undefined;
  chooseLanguage({ asked: language, there: languagesThere(shop?.content) });
  const keys = { tool: toolKey(VERSION), face: shopKey(shop) };
  const path = await writeDesk(options.out, { version: VERSION, shop, keys, language }).catch((error: unknown) => {
    throw asWriteFault(error, options.out);
  });
  terminal.out(`${path}\n`);
  return 0;
}
