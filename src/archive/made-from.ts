/**
 * What a report was made from, as one hash: manifest, logs and photos by their content, options, and the tool itself with
 * its templates and prose. The same hash means the same bytes, so the session is not analysed again.
 */

import { createHash } from 'node:crypto';
import { createReadStream, existsSync, readdirSync, readFileSync } from 'node:fs';
import { readdir, stat } from 'node:fs/promises';
import { join, relative } from 'node:path';
import { fileURLToPath } from 'node:url';
import { z } from 'zod';
import { nodeFiles } from '../base/disk/node-files.ts';
import { readRegular } from '../base/disk/read-regular.ts';
import { replaceFile } from '../base/disk/write-file.ts';
import { MANIFEST, resolveLogFiles } from '../manifest/read-session.ts';
import type { Session } from '../manifest/session.ts';
import { keyOf } from './session-key.ts';

/** The note beside a report. */
export const MADE_FROM_FILE = 'made-from.json';
const Log = z.object({ bytes: z.number(), mtimeMs: z.number(), ctimeMs: z.number(), sha256: z.string() });
const MadeFrom = z.object({
  schema: z.literal('standstill-made-from/1'),
  key: z.string(),
  files: z.record(z.string(), z.number()),
  logs: z.array(Log.nullable()).default([]),
  /** `folderKey` of the session's folder; of a redacted report none is noted. */
  folder: z.string().optional(),
});

/**
 * The logs as the system tells of them, each with its hash, in the session's order; without names, which a redacted report
 * leaves out. Size and both times the same: nobody has written to it since.
 */
export type NotedLogs = readonly (z.infer<typeof Log> | null)[];

/** Files whose loss or damage is noticed; so is that of every PDF beside them. */
const WATCHED = ['index.html', 'report.json'];

/** Hash of everything that decides a report but its session: code, prose, templates. Once a build. */
export function toolKey(version: string): string {
  const hash = createHash('sha256')
    .update(version)
    .update(notedCode() ?? filesHash(at('..')));
  for (const tree of ['../../content', '../../templates']) hash.update(filesHash(at(tree)));
  return hash.digest('hex');
}

/** Hash of all files below a folder, with their paths. */
export function filesHash(root: string): string {
  const hash = createHash('sha256');
  // Hundreds of small files are read much faster one after another than through promises.
  for (const path of filesBelow(root)) hash.update(`\0${path}\0`).update(readFileSync(join(root, path)));
  return hash.digest('hex');
}

const at = (path: string) => fileURLToPath(new URL(path, import.meta.url));

/** What `npm run compile` noted beside the packed program. */
function notedCode(): string | null {
  const file = at('code-hash');
  return existsSync(file) ? readFileSync(file, 'utf8') : null;
}

function filesBelow(folder: string): string[] {
  const found = readdirSync(folder, { withFileTypes: true, recursive: true });
  const files = found.filter((one) => one.isFile()).map((one) => relative(folder, join(one.parentPath, one.name)));
  return files.map((path) => path.replaceAll('\\', '/')).sort();
}

/**
 * Hash of a session and how it is reported.
 *
 * @param options everything that changes what is written; `tool` is `toolKey`'s
 * @param logs hashes of the logs as the reader saw them, by name; a log that is not among them is read here
 */
export async function sessionKey(
  session: Session,
  options: Readonly<Record<string, unknown>>,
  logs: ReadonlyMap<string, string> = new Map(),
): Promise<string> {
  const names = [MANIFEST, ...resolveLogFiles(session, nodeFiles), ...session.photos.map(({ file }) => file)];
  const hashes: [string, string][] = [];
  for (const name of names) hashes.push([name, logs.get(name) ?? (await fileHash(join(session.folder, name)))]);
  return keyOf(options, hashes);
}

async function fileHash(path: string): Promise<string> {
  const hash = createHash('sha256');
  for await (const chunk of createReadStream(path, { highWaterMark: 1 << 20 })) hash.update(chunk);
  return hash.digest('hex');
}

export interface Made {
  readonly key: string;
  readonly logs: NotedLogs;
  /** Whether a file beside the report, such as its PDF, is there and as it was written. */
  readonly isWhole: (name: string) => boolean;
}

/**
 * The report in `folder` where it was made from the same things and is still as it was written; null where it must be made.
 *
 * @param key `sessionKey`'s; asked for only where all else speaks for it, with the hashes of logs that need no reading again
 */
export async function findMade(
  folder: string,
  session: Session,
  key: (logs: ReadonlyMap<string, string>) => Promise<string>,
): Promise<Made | null> {
  const text = (await readRegular(join(folder, MADE_FROM_FILE)))?.toString('utf8') ?? null;
  const parsed = MadeFrom.safeParse(text === null ? null : parseOrNull(text));
  if (!parsed.success) return null;
  const { files, logs } = parsed.data;
  const sizes = await sizesOf(folder);
  const isWhole = (name: string) => files[name] !== undefined && files[name] === sizes[name];
  if (!isWhole('index.html') || !isWhole('report.json')) return null;
  const now = await stampLogs(session);
  const known = now.flatMap(({ name, ...stamp }, k) => {
    const noted = logs[k];
    return noted && isSame(noted, stamp) ? [[name, noted.sha256] as const] : [];
  });
  if (parsed.data.key !== (await key(new Map(known)))) return null;
  return { key: parsed.data.key, logs, isWhole };
}

interface Stamp {
  readonly bytes: number;
  readonly mtimeMs: number;
  readonly ctimeMs: number;
}

const isSame = (one: Stamp, other: Stamp) =>
  one.bytes === other.bytes && one.mtimeMs === other.mtimeMs && one.ctimeMs === other.ctimeMs;

/** The session's logs as the system tells of them, in their order. */
export async function stampLogs(session: Session): Promise<readonly (Stamp & { readonly name: string })[]> {
  const stamps = resolveLogFiles(session, nodeFiles).map(async (name) => {
    const { size, mtimeMs, ctimeMs } = await stat(join(session.folder, name));
    return { name, bytes: size, mtimeMs, ctimeMs };
  });
  return Promise.all(stamps);
}

/**
 * What to note of the logs: only those that nobody wrote to while they were read.
 *
 * @param before `stampLogs` of the time before they were read
 * @param hashes of what was read, by name
 */
export async function noteLogs(
  session: Session,
  before: Awaited<ReturnType<typeof stampLogs>>,
  hashes: ReadonlyMap<string, string>,
): Promise<NotedLogs> {
  const after = await stampLogs(session);
  return before.map(({ name, ...stamp }, k) => {
    const [sha256, now] = [hashes.get(name), after[k]];
    return sha256 !== undefined && now?.name === name && isSame(stamp, now) ? { ...stamp, sha256 } : null;
  });
}

/** The session folder that a report came from, as `folderKey` names it; undefined where that was not noted. */
export async function notedFolder(folder: string): Promise<string | undefined> {
  const text = (await readRegular(join(folder, MADE_FROM_FILE)))?.toString('utf8') ?? null;
  const parsed = MadeFrom.safeParse(text === null ? null : parseOrNull(text));
  return parsed.success ? parsed.data.folder : undefined;
}

/** Notes beside a finished report what it was made from; until then it counts as not made. */
export async function noteMadeFrom(folder: string, key: string, logs: NotedLogs = [], from?: string): Promise<void> {
  const note = { schema: 'standstill-made-from/1', key, files: await sizesOf(folder), logs, folder: from };
  await replaceFile(join(folder, MADE_FROM_FILE), `${JSON.stringify(note)}\n`);
}

async function sizesOf(folder: string): Promise<Record<string, number>> {
  const sizes: Record<string, number> = {};
  const there = await readdir(folder).catch(() => []);
  for (const name of [...WATCHED, ...there.filter((file) => file.endsWith('.pdf')).sort()]) {
    const found = await stat(join(folder, name)).catch(() => null);
    if (found) sizes[name] = found.size;
  }
  return sizes;
}

function parseOrNull(text: string): unknown {
  try {
    return JSON.parse(text);
  } catch {
    return null;
  }
}
