/** The shop's face beside an archive on disk. */
import { createHash } from 'node:crypto';
import { readdirSync, readFileSync, statSync } from 'node:fs';
import { basename, extname, join } from 'node:path';
import { nodeFiles } from '../base/disk/node-files.ts';
import { nearest } from '../base/nearest.ts';
import { type Problem, UserError } from '../base/problem.ts';
import { shown } from '../base/shown.ts';
import { readShop, type Shop } from '../report/shop/shop.ts';
import { CONTENT, languagesThere, TEMPLATES } from './content.ts';

/** As `readShop`; a file of the shop's own that stands in for none of ours is a fault too. */
export function loadShop(where: string): Shop | null {
  const shop = readShop(where, nodeFiles, languagesThere);
  const problems = [
    ...(shop?.templates ?? []).flatMap((folder) => strangersIn('templates', folder, namesIn(TEMPLATES))),
    ...(shop?.content ?? []).flatMap((folder) => strangersIn('content', folder, wordsFor(folder))),
  ];
  if (problems.length > 0) throw new UserError(problems);
  return shop;
}

const namesIn = (folder: string) =>
  readdirSync(folder, { recursive: true, encoding: 'utf8' }).map((name) => name.replaceAll('\\', '/'));

/** In each of our languages, and in those that the folder brings. */
function wordsFor(folder: string): string[] {
  const names = new Set(languagesThere().flatMap((language) => namesIn(join(CONTENT, language))));
  return languagesThere([folder]).flatMap((language) => [...names].map((name) => `${language}/${name}`));
}

/** Files that nobody would read; what a folder may hold besides (a note to oneself, say) has another ending. */
function strangersIn(path: string, folder: string, known: readonly string[]): Problem[] {
  // Folders have no ending.
  const endings = new Set(known.map((name) => extname(name)).filter((ending) => ending !== ''));
  const isNote = (name: string) => basename(name).startsWith('.') || /^readme\b/i.test(basename(name));
  const strangers = namesIn(folder).filter(
    (name) => endings.has(extname(name)) && !isNote(name) && !known.includes(name),
  );
  return strangers.sort().map((name) => {
    const near = nearest(name, known);
    const message = `${shown(name)} in this folder stands in for no file of ours.${near ? ` Did you mean ${near}?` : ''}`;
    return { file: 'shop.yaml', path, message };
  });
}

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
