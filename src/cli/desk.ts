/** `standstill desk`: the whole job in one page, for whoever has no terminal. */
import { toolKey } from '../archive/made-from.ts';
import { asWriteFault } from '../base/disk/write-fault.ts';
import { loadShop, shopKey } from '../node/shop.ts';
import { VERSION } from '../node/version.ts';
import { writeDesk } from './desk-page.ts';
import type { Terminal } from './terminal.ts';

/** Writes it beside the archive, with the shop's face, as `build` and `index` do. */
export async function desk(options: { readonly out: string }, terminal: Terminal): Promise<0> {
  const shop = loadShop(options.out);
  const keys = { tool: toolKey(VERSION), face: shopKey(shop) };
  const path = await writeDesk(options.out, { version: VERSION, shop, keys }).catch((error: unknown) => {
    throw asWriteFault(error, options.out);
  });
  terminal.out(`${path}\n`);
  return 0;
}
