/**
 * What a report was made from, as one hash: manifest, logs and photos by their content, options, and the tool itself with
 * its templates and prose. The same hash means the same bytes, so the session is not analysed again.
 */
import { createHash } from 'node:crypto';
import { createReadStream, readdirSync, readFileSync } from 'node:fs';
import { readFile, stat } from 'node:fs/promises';
import { join } from 'node:path';
import { fileURLToPath } from 'node:url';
import { z } from 'zod';
import { MANIFEST, resolveLogFiles } from '../manifest/read-session.ts';
import type { Session } from '../manifest/session.ts';
import { replaceFile } from './write-file.ts';

const NAME = 'made-from.json';
const MadeFrom = z.object({
  schema: z.literal('standstill-made-from/1'),
  key: z.string(),
  files: z.record(z.string(), z.number()),
});

/** Files whose loss or damage is noticed. */
const WATCHED = ['index.html', 'report.json', 'report.pdf'];

/** Hash of everything that decides a report but its session: code, prose, templates. Once a build. */
export function toolKey(version: string): string {
  const hash = createHash('sha256').update(version);
  for (const tree of ['..', '../../content', '../../templates']) {
    const root = fileURLToPath(new URL(tree, import.meta.url));
    // Hundreds of small files are read much faster one after another than through promises.
    for (const path of filesBelow(root)) hash.update(`\0${path}\0`).update(readFileSync(join(root, path)));
  }
  return hash.digest('hex');
}

function filesBelow(folder: string): string[] {
  const found = readdirSync(folder, { withFileTypes: true, recursive: true });
  const files = found.filter((one) => one.isFile()).map((one) => join(one.parentPath, one.name).slice(folder.length));
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
  const hash = createHash('sha256').update(JSON.stringify(options));
  for (const name of [MANIFEST, ...resolveLogFiles(session), ...session.photos.map(({ file }) => file)]) {
    hash.update(`\0${name}\0${logs.get(name) ?? (await fileHash(join(session.folder, name)))}`);
  }
  return hash.digest('hex');
}

async function fileHash(path: string): Promise<string> {
  const hash = createHash('sha256');
  for await (const chunk of createReadStream(path, { highWaterMark: 1 << 20 })) hash.update(chunk);
  return hash.digest('hex');
}

export interface Made {
  readonly key: string;
  /** True where the report is whole but for its PDF: none was wanted, no browser was there, or it is not as it was written. */
  readonly lacksPdf: boolean;
}

/**
 * The report in `folder` where it was made from the same things and is still as it was written; null where it must be made.
 *
 * @param key asked for only where all else speaks for it, since it takes a reading of the logs
 */
export async function findMade(folder: string, key: () => Promise<string>): Promise<Made | null> {
  const text = await readFile(join(folder, NAME), 'utf8').catch(() => null);
  const parsed = MadeFrom.safeParse(text === null ? null : parseOrNull(text));
  if (!parsed.success) return null;
  const { files } = parsed.data;
  const sizes = await sizesOf(folder);
  const isWhole = (name: string) => files[name] !== undefined && files[name] === sizes[name];
  if (!isWhole('index.html') || !isWhole('report.json') || parsed.data.key !== (await key())) return null;
  return { key: parsed.data.key, lacksPdf: !isWhole('report.pdf') };
}

/** Notes beside a finished report what it was made from; until then it counts as not made. */
export async function noteMadeFrom(folder: string, key: string): Promise<void> {
  const note = { schema: 'standstill-made-from/1', key, files: await sizesOf(folder) };
  await replaceFile(join(folder, NAME), `${JSON.stringify(note)}\n`);
}

async function sizesOf(folder: string): Promise<Record<string, number>> {
  const sizes: Record<string, number> = {};
  for (const name of WATCHED) {
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
