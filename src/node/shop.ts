/** The shop's face beside an archive on disk. */
import { createHash } from 'node:crypto';
import { readdirSync, readFileSync, statSync } from 'node:fs';
import { join } from 'node:path';
import { nodeFiles } from '../base/disk/node-files.ts';
import { readShop, type Shop } from '../report/shop/shop.ts';
import { languagesThere } from './content.ts';

/** As `readShop`. */
export const loadShop = (where: string): Shop | null => readShop(where, nodeFiles, languagesThere);

/** Changes whenever a report would look or read otherwise because of the shop: its file, logo, words or templates. */
export function shopKey(shop: Shop | null): string {
  const hash = createHash('sha256').update(JSON.stringify(shop));
  for (const folder of [...(shop?.templates ?? []), ...(shop?.content ?? [])]) {
    for (const name of readdirSync(folder, { recursive: true, encoding: 'utf8' }).sort()) {
      const file = join(folder, name);
      if (statSync(file).isFile()) hash.update(name).update('\0').update(readFileSync(file));
    }
  }
  return hash.digest('hex');
}
