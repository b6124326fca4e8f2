/** The archive's pages brought up to date from a page, from the reports that are there; what `index` writes. */
import { archivePages } from '../../archive/pages/archive-pages.ts';
import { storedOf, underItsId } from '../../archive/stored-report.ts';
import { type Entry, entriesIn, SHARDS, STORE } from '../../archive/summary/shards.ts';
import { summaryOf } from '../../archive/summary/summary.ts';
import { hexHashOf } from '../../base/bytes.ts';
import { chooseLanguage } from '../../report/words/languages.ts';
import { contentOf } from '../content.ts';
import { DATA } from '../data.ts';
import { drawSvg } from '../draw-svg.ts';
import { type ArchiveFolder, type ArchiveSource, folderOf } from './folder.ts';
import { putFile, takeAway } from './put.ts';

const KEY = DATA.keys.tool + DATA.keys.face;
const ownWay = () => ({
  content: contentOf(chooseLanguage({ shop: DATA, there: DATA.languages })),
  pageSize: DATA.shop?.pageSize ?? 'a4',
  drawSvg,
  desk: true,
});
const ASIDE = ['vehicles', 'months', 'models'];

/** The archive's pages, by path, as they are with one session more. */
export async function pagesWith(source: ArchiveSource, id: string, report: string): Promise<Map<string, string>> {
  const folder = folderOf(source);
  const { sessions, damaged } = await readSummaries(folder, KEY);
  const own = underItsId(storedOf(report, id));
  if ('message' in own) throw new Error(own.message);
  const all = [
    ...sessions.filter(({ summary }) => summary.session.id !== id),
    { summary: summaryOf(own.report), sha256: hexHashOf(report) },
  ].sort((a, b) => (a.summary.session.id < b.summary.session.id ? -1 : 1));
  const written = new Map<string, string>();
  await archivePages(
    { sessions: all, damaged, compared: await folder.names('comparisons') },
    ownWay(),
    async (path, _, make) => {
      written.set(path, await make());
    },
  );
  return written;
}

/** While the archive is locked. */
export async function refreshPages(root: FileSystemDirectoryHandle): Promise<void> {
  const folder = folderOf(root);
  const read = await readSummaries(folder, KEY);
  const written = new Set<string>();
  const compared = await folder.names('comparisons');
  let changed = false;
  await archivePages({ ...read, compared }, ownWay(), async (path, _, make) => {
    written.add(path.split('/').slice(0, 2).join('/'));
    if (await putFile(root, path, await make())) changed = true;
  });
  for (const aside of ASIDE)
    for (const name of await folder.names(aside))
      if (!written.has(`${aside}/${name}`)) await takeAway(root, `${aside}/${name}`);
  // The command line's note of what each page was made from is of no use any more.
  if (changed) await takeAway(root, `${STORE}/pages.json`);
}

/** As the command line's store has them where they are still of the same file, and read again where not. */
export async function readSummaries(folder: ArchiveFolder, key: string) {
  const kept = new Map<string, Entry>();
  for (const shard of SHARDS) {
    const text = await (await folder.file(`${STORE}/${shard}.json`))?.text();
    for (const entry of entriesIn(text ?? '', key)) kept.set(entry.folder, entry);
  }
  const sessions: Pick<Entry, 'summary' | 'sha256'>[] = [];
  const damaged: { folder: string; message: string }[] = [];
  for (const name of (await folder.names('sessions')).filter((one) => !one.startsWith('.'))) {
    const file = (await folder.file(`sessions/${name}/report.json`)) as File | null;
    const known = kept.get(name);
    if (known && file && known.stamp.bytes === file.size && Math.trunc(known.stamp.mtimeMs) === file.lastModified) {
      sessions.push(known);
      continue;
    }
    const text = (await file?.text()) ?? null;
    const read = underItsId(storedOf(text, name));
    if ('message' in read) damaged.push(read);
    else sessions.push({ summary: summaryOf(read.report), sha256: text === null ? '' : hexHashOf(text) });
  }
  return { sessions, damaged };
}
