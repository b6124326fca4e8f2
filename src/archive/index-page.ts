/** `out/index.html`: every session of the archive in one plain table, from the `report.json` files that are there. */
import { mkdir, readdir, readFile, rename, writeFile } from 'node:fs/promises';
import { join } from 'node:path';
import { z } from 'zod';
import type { Status } from '../checks/check.ts';
import { zoneOf } from '../manifest/zone.ts';
import { loadContent, loadTemplate } from '../report/content.ts';
import { makeFormat } from '../report/format.ts';
import { engine, styleOf } from '../report/page.ts';
import { headlines } from '../report/summary.ts';

/** The part of a report that the table shows; anything else in it may be of any kind. */
const Entry = z.object({
  schema: z.literal('standstill-report/1'),
  session: z.object({
    id: z.string(),
    title: z.string(),
    purpose: z.enum(['baseline', 'complaint', 'after-repair']),
    repair_order: z.string().nullable(),
    timezone: z.string(),
    vehicle: z.object({ description: z.string(), registration: z.string().nullable() }),
  }),
  log: z.object({ start: z.iso.datetime(), end: z.iso.datetime() }),
  findings: z.array(
    z.object({
      check: z.string(),
      status: z.enum(['fault', 'watch', 'clear', 'undecided']),
      title: z.string(),
      follows: z.string().nullable(),
    }),
  ),
  summary: z.object({ answer: z.string() }),
});
type Entry = z.infer<typeof Entry>;

export interface ArchiveIndex {
  /** Sessions in the table. */
  readonly sessions: number;
  /** Folders whose `report.json` could not be used, with what is wrong. */
  readonly damaged: readonly { readonly folder: string; readonly message: string }[];
}

export interface IndexOptions {
  readonly language?: string;
  readonly pageSize?: 'a4' | 'letter';
}

/** Newest first. A report that cannot be used is named on the page and in the answer, and left out of the table. */
export async function writeArchiveIndex(outDir: string, options: IndexOptions = {}): Promise<ArchiveIndex> {
  const { language = 'en', pageSize = 'a4' } = options;
  const content = loadContent(language);
  const read = await Promise.all((await sessionFolders(outDir)).map((folder) => readEntry(outDir, folder)));
  const entries = read.flatMap((one) => ('entry' in one ? [one] : []));
  const damaged = read.flatMap((one) => ('entry' in one ? [] : [one]));
  entries.sort((a, b) => compare(b.entry.log.start, a.entry.log.start) || compare(a.folder, b.folder));
  const rows = entries.map(({ folder, entry }) => ({
    ...entry,
    ...words(entry),
    link: `sessions/${encodeURIComponent(folder)}/index.html`,
    date: makeFormat(content.locale, zoneOf(entry.session.timezone)).date(Date.parse(entry.log.start) / 1000),
  }));
  const style = styleOf(pageSize, content.label('archive.title'), content);
  const html = engine(content, undefined, ['marks', 'status']).compile(loadTemplate('archive.hbs'))({
    language,
    style,
    rows,
    damaged,
  });
  await mkdir(outDir, { recursive: true });
  const fresh = join(outDir, '.index.html.new');
  await writeFile(fresh, html);
  await rename(fresh, join(outDir, 'index.html'));
  return { sessions: entries.length, damaged };
}

/** Folders in `sessions/`, but for those that a build is still writing. */
async function sessionFolders(outDir: string): Promise<string[]> {
  const found = await readdir(join(outDir, 'sessions'), { withFileTypes: true }).catch(() => []);
  return found.flatMap((one) => (one.isDirectory() && !one.name.startsWith('.') ? [one.name] : [])).sort();
}

type Read = { readonly folder: string; readonly entry: Entry } | { readonly folder: string; readonly message: string };

async function readEntry(outDir: string, folder: string): Promise<Read> {
  const text = await readFile(join(outDir, 'sessions', folder, 'report.json'), 'utf8').catch(() => null);
  if (text === null) return { folder, message: 'report.json is missing or cannot be read.' };
  let value: unknown;
  try {
    value = JSON.parse(text);
  } catch {
    return { folder, message: 'report.json is not whole: it is no JSON.' };
  }
  const parsed = Entry.safeParse(value);
  if (parsed.success) return { folder, entry: parsed.data };
  const [issue] = parsed.error.issues;
  return { folder, message: `report.json, ${issue.path.join('.')}: ${issue.message}.` };
}

function words(entry: Entry): { readonly status: Status; readonly headline: readonly string[] } {
  const { situation, findings } = headlines(entry.findings);
  const titles = findings.map((finding) => finding.title);
  return { status: situation, headline: titles.length > 0 ? titles : [entry.summary.answer] };
}

function compare(a: string, b: string): number {
  return a < b ? -1 : a > b ? 1 : 0;
}
