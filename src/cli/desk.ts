/** `standstill desk`: the whole job in one page, for whoever has no terminal. */
import { join } from 'node:path';
import { asWriteFault } from '../base/disk/write-fault.ts';
import { replaceFile } from '../base/disk/write-file.ts';
import { deskPage } from '../node/desk-page.ts';
import { loadShop } from '../node/shop.ts';
import type { Terminal } from './terminal.ts';
import { VERSION } from './version.ts';

export const DESK = 'desk.html';

/** Writes it beside the archive, with the shop's face. */
export async function desk(options: { readonly out: string }, terminal: Terminal): Promise<0> {
  const path = join(options.out, DESK);
  await replaceFile(path, deskPage(VERSION, loadShop(options.out))).catch((error: unknown) => {
    throw asWriteFault(error, options.out);
  });
  terminal.out(`${path}\n`);
  return 0;
}
