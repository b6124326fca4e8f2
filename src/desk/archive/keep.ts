/** What was made is put into the archive: what `build` and `compare` write, in the same places. */
import { isOfPair, pairName } from '../../archive/comparison/pairs.ts';
import { isSameJob, shareLogs } from '../../archive/same-job.ts';
import { storedOf, underItsId } from '../../archive/stored-report.ts';
import type { Session } from '../../manifest/session.ts';
import { folderOf } from './folder.ts';
import { withLock } from './lock.ts';
import { refreshPages } from './pages.ts';
import { putFile, putFolder, takeAway } from './put.ts';

/** A session's report on its way into an archive. */
export interface Kept {
  readonly id: string;
  /** By path in `sessions/ID`. */
  readonly files: ReadonlyMap<string, Blob>;
  /** `keyOf` all that it was made from. */
  readonly key: string;
  readonly logHashes: readonly string[];
  readonly told: Pick<Session, 'vehicle' | 'repairOrder'>;
  readonly redacted: boolean;
  /** The page's own file, for an archive that has none. */
  readonly desk: Blob;
}

/** Under its id stands the report of another vehicle or repair order: told to the person, who may say that it is to go. */
export interface Taken {
  readonly taken: { readonly id: string; readonly vehicle: string; readonly title: string };
}

export async function keep(
  root: FileSystemDirectoryHandle,
  kept: Kept,
  replace: boolean,
  onWait: () => void,
): Promise<Taken | null> {
  return withLock(
    root,
    async () => {
      const rivals = await rivalsOf(root, kept);
      const [rival] = rivals;
      if (rival && !replace) return { taken: rival };
      if (kept.redacted) await takeTraces(root, kept.id);
      const sizes = Object.fromEntries(
        ['index.html', 'report.json'].map((name) => [name, kept.files.get(name)?.size ?? 0]),
      );
      // As `noteMadeFrom` writes it; a page knows nothing of when the logs were written to.
      const note = { schema: 'standstill-made-from/1', key: kept.key, files: sizes, logs: [] };
      const files = new Map<string, Blob | string>(kept.files);
      files.set('made-from.json', `${JSON.stringify(note)}\n`);
      await putFolder(root, `sessions/${kept.id}`, files, ['report.json', 'index.html', 'made-from.json']);
      for (const { id } of rivals) if (id !== kept.id) await takeAway(root, `sessions/${id}`);
      await finish(root, kept.desk);
      return null;
    },
    onWait,
  );
}

/** A comparison's files by path in its folder. */
export async function keepComparison(
  root: FileSystemDirectoryHandle,
  ids: { readonly before: string; readonly after: string },
  files: ReadonlyMap<string, string>,
  onWait: () => void,
): Promise<void> {
  await withLock(
    root,
    async () => {
      await putFolder(root, `comparisons/${pairName(ids.before, ids.after)}`, files, ['comparison.json', 'index.html']);
      await refreshPages(root);
    },
    onWait,
  );
}

async function finish(root: FileSystemDirectoryHandle, desk: Blob): Promise<void> {
  await refreshPages(root);
  if (!(await folderOf(root).file('desk.html'))) await putFile(root, 'desk.html', desk);
}

async function rivalsOf(root: FileSystemDirectoryHandle, { id, told, logHashes }: Kept): Promise<Taken['taken'][]> {
  const folder = folderOf(root);
  const alike = (await folder.names('sessions')).filter((name) => name.toLowerCase() === id.toLowerCase());
  const rivals: Taken['taken'][] = [];
  for (const name of alike) {
    const read = underItsId(
      storedOf((await (await folder.file(`sessions/${name}/report.json`))?.text()) ?? null, name),
    );
    // A report that cannot be read is nobody's.
    if ('message' in read) continue;
    const { report } = read;
    if (name === id && (isSameJob(report, told) || shareLogs(report, logHashes))) continue;
    const { vehicle, title } = report.session;
    const words = [vehicle.description, vehicle.registration].filter(Boolean).join(', ');
    rivals.push({ id: name, vehicle: words, title });
  }
  return rivals;
}

/** What still shows the session as it was, when its report gives way to a redacted one. */
async function takeTraces(root: FileSystemDirectoryHandle, id: string): Promise<void> {
  const folder = folderOf(root);
  const text = (await (await folder.file(`sessions/${id}/report.json`))?.text()) ?? null;
  if (text === null) return;
  const read = storedOf(text, id);
  if ('report' in read && read.report.session.redacted) return;
  for (const pair of await folder.names('comparisons'))
    if (isOfPair(pair, id)) await takeAway(root, `comparisons/${pair}`);
  await takeAway(root, 'tables');
}
