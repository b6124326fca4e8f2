/**
 * The archive's pages as they are written: each only where what it is made from has changed, and those that nothing belongs to
 * any more are taken away, since they would show what was taken out of the archive. What each was made from is noted in the
 * store of summaries.
 */
import type { Dirent } from 'node:fs';
import { lstat, readdir, rm } from 'node:fs/promises';
import { join } from 'node:path';
import { z } from 'zod';
import { readRegular } from '../../base/disk/read-regular.ts';
import { replaceFile } from '../../base/disk/write-file.ts';
import { STORE } from '../summary/shards.ts';
import type { PutPage } from './page.ts';

/** Folders of pages that are ours alone, and what lies in them. */
const OWN: Readonly<Record<string, (one: Dirent) => boolean>> = {
  vehicles: (one) => one.isDirectory(),
  months: (one) => one.isFile(),
  models: (one) => one.isFile(),
};
const NOTE = join(STORE, 'pages.json');
const Noted = z.object({
  schema: z.literal('standstill-pages/1'),
  key: z.string(),
  pages: z.record(z.string(), z.string()),
});

export interface Pages {
  /** Writes a page, unless it is there and was made from the same. */
  readonly put: PutPage;
  /** Takes away what was not put, and notes what was. */
  finish(): Promise<void>;
}

/** @param key of everything else that decides a page's bytes: words, templates, code; null where every page is to be made */
export async function openPages(outDir: string, key: string | null): Promise<Pages> {
  const noted = key === null ? {} : await notedPages(outDir, key);
  const there = new Map<string, ReadonlySet<string>>();
  for (const [folder, isOurs] of Object.entries(OWN)) there.set(folder, await namesIn(join(outDir, folder), isOurs));
  const put: Record<string, string> = {};
  return {
    async put(path, madeFrom, make) {
      put[path] = madeFrom;
      if (noted[path] === madeFrom && (await isThere(path))) return;
      await replaceFile(join(outDir, ...path.split('/')), await make());
    },
    async finish() {
      const wanted = new Set(Object.keys(put).map((path) => path.split('/').slice(0, 2).join('/')));
      for (const [folder, names] of there)
        for (const name of names)
          if (!wanted.has(`${folder}/${name}`)) await rm(join(outDir, folder, name), { recursive: true, force: true });
      if (key === null) return;
      const text = JSON.stringify({ schema: 'standstill-pages/1', key, pages: put });
      if (text !== JSON.stringify({ schema: 'standstill-pages/1', key, pages: noted }))
        await replaceFile(join(outDir, NOTE), text);
    },
  };

  /** Of thousands of vehicles' folders one listing tells; single pages are looked at. */
  async function isThere(path: string): Promise<boolean> {
    const [folder = '', name] = path.split('/');
    if (name !== undefined) return there.get(folder)?.has(name) ?? false;
    return lstat(join(outDir, folder)).then(
      (found) => found.isFile(),
      () => false,
    );
  }
}

/** What is no page of ours is taken away at once: a link would be written through. */
async function namesIn(folder: string, isOurs: (one: Dirent) => boolean): Promise<Set<string>> {
  const names = new Set<string>();
  for (const one of await readdir(folder, { withFileTypes: true }).catch(() => [])) {
    if (isOurs(one)) names.add(one.name);
    else await rm(join(folder, one.name), { recursive: true, force: true });
  }
  return names;
}

async function notedPages(outDir: string, key: string): Promise<Readonly<Record<string, string>>> {
  const text = (await readRegular(join(outDir, NOTE)))?.toString('utf8');
  try {
    const noted = Noted.parse(JSON.parse(text ?? ''));
    return noted.key === key ? noted.pages : {};
  } catch {
    return {};
  }
}
