/**
 * Summaries kept from one index to the next, in `OUT/.summaries`. Each is held by its report's size and times, and where those
 * differ by its hash: a report that is as it was is not parsed again. What is kept here can be lost at any time; it is then
 * made anew from the reports.
 */
import { createHash } from 'node:crypto';
import { lstatSync, type Stats } from 'node:fs';
import { lstat } from 'node:fs/promises';
import { join } from 'node:path';
import { readRegular } from '../../base/disk/read-regular.ts';
import { replaceFile } from '../../base/disk/write-file.ts';
import { inParallel } from '../../base/in-parallel.ts';
import { sessionFolders } from '../stored.ts';
import { type Archive, storedOf, underItsId } from '../stored-report.ts';
import { type Entry, entriesIn, headOf, SHARDS, STORE, type Stamp } from './shards.ts';
import { summaryOf } from './summary.ts';

const AT_ONCE = 32;

export interface Summaries {
  /** In order of folder names. */
  readonly entries: readonly Entry[];
  readonly damaged: Archive['damaged'];
}

/**
 * Every session of the archive.
 *
 * @param key of everything that decides how a summary is made: what was kept under another one is not used; null keeps nothing
 * @param keeps false where nothing may be written: the archive is not locked
 */
export async function readSummaries(outDir: string, key: string | null, keeps = true): Promise<Summaries> {
  const folders = await sessionFolders(outDir);
  const kept = key === null ? new Map<string, Entry>() : await load(outDir, key);
  const stamps = await stampsOf(outDir, folders);
  const read = folders.map((folder, k): Entry | Archive['damaged'][number] | null => {
    const [known, stamp] = [kept.get(folder), stamps[k]];
    return known && stamp && isSame(known.stamp, stamp) ? known : null;
  });
  const changed = [...folders.entries()].filter(([k]) => !read[k]);
  await inParallel(changed, AT_ONCE, async ([k, folder]) => {
    read[k] = await entryOf(outDir, folder, stamps[k] ?? null, kept.get(folder));
  });
  const entries = read.flatMap((one) => (one && 'summary' in one ? [one] : []));
  if (key !== null && keeps) await save(outDir, key, entries, kept);
  return { entries, damaged: read.flatMap((one) => (one && 'message' in one ? [one] : [])) };
}

async function entryOf(outDir: string, folder: string, stamp: Stamp | null, known: Entry | undefined) {
  const bytes = await readRegular(join(outDir, 'sessions', folder, 'report.json'));
  const sha256 = bytes && createHash('sha256').update(bytes).digest('hex');
  if (known && stamp && known.sha256 === sha256) return { ...known, stamp };
  const read = underItsId(storedOf(bytes?.toString('utf8') ?? null, folder));
  if ('message' in read) return read;
  return { folder, stamp: stamp ?? NO_STAMP, sha256: sha256 ?? '', summary: summaryOf(read.report) };
}

/** Of a report that went away while it was looked at. */
const NO_STAMP: Stamp = { bytes: -1, mtimeMs: 0, ctimeMs: 0 };

/** Ours is a disk that answers at once, or a share that had better be asked for many things at a time. */
const QUICK_MS = 0.1;
const TRIED = 200;

/** By folder; null where there is no `report.json`. */
async function stampsOf(outDir: string, folders: readonly string[]): Promise<(Stamp | null)[]> {
  const pathOf = (folder: string) => join(outDir, 'sessions', folder, 'report.json');
  const began = performance.now();
  const tried = folders.slice(0, TRIED).map((folder) => stampOf(lstatSync(pathOf(folder), { throwIfNoEntry: false })));
  const isQuick = (performance.now() - began) / TRIED < QUICK_MS;
  const left = folders.slice(TRIED);
  if (isQuick)
    return [...tried, ...left.map((folder) => stampOf(lstatSync(pathOf(folder), { throwIfNoEntry: false })))];
  return [
    ...tried,
    ...(await inParallel(left, AT_ONCE, async (folder) => stampOf(await lstat(pathOf(folder)).catch(() => undefined)))),
  ];
}

const stampOf = (found: Stats | undefined): Stamp | null =>
  found ? { bytes: found.size, mtimeMs: found.mtimeMs, ctimeMs: found.ctimeMs } : null;

const isSame = (one: Stamp, other: Stamp) =>
  one.bytes === other.bytes && one.mtimeMs === other.mtimeMs && one.ctimeMs === other.ctimeMs;

const hashOf = (text: string) => createHash('sha256').update(text).digest('hex');
const shardOf = (folder: string) => hashOf(folder).slice(0, 1);
const fileOf = (outDir: string, shard: string) => join(outDir, STORE, `${shard}.json`);

/** Of a file that is not whole nothing is used; what is kept under another key is of another version. */
async function load(outDir: string, key: string): Promise<Map<string, Entry>> {
  const kept = new Map<string, Entry>();
  for (const shard of SHARDS) {
    const text = (await readRegular(fileOf(outDir, shard)))?.toString('latin1') ?? '';
    for (const entry of entriesIn(text, key)) kept.set(entry.folder, entry);
  }
  return kept;
}

/** A text of plain signs alone is read three times as fast. */
const plainJson = (value: unknown) =>
  JSON.stringify(value).replace(/[^\0-\x7f]/g, (sign) => `\\u${sign.charCodeAt(0).toString(16).padStart(4, '0')}`);

async function save(outDir: string, key: string, entries: readonly Entry[], kept: ReadonlyMap<string, Entry>) {
  const shards = new Map([...SHARDS].map((shard) => [shard, [] as Entry[]]));
  const changed = new Set<string>();
  const here = new Set<string>();
  for (const entry of entries) {
    const shard = shardOf(entry.folder);
    shards.get(shard)?.push(entry);
    here.add(entry.folder);
    if (kept.get(entry.folder) !== entry) changed.add(shard);
  }
  for (const folder of kept.keys()) if (!here.has(folder)) changed.add(shardOf(folder));
  for (const shard of changed) {
    await replaceFile(fileOf(outDir, shard), headOf(key) + plainJson(shards.get(shard)));
  }
}
