/** The street as a worker of the page walks it: from files to everything that `build` writes of them, the PDF aside. */
import { withBaseline } from '../archive/baseline.ts';
import { archivePages } from '../archive/pages/archive-pages.ts';
import { asStored } from '../archive/stored-report.ts';
import { summaryOf } from '../archive/summary/summary.ts';
import { rawSvg } from '../charts/drawing/draw.ts';
import type { LogIo } from '../log/files/io.ts';
import { readLog } from '../log/read-log.ts';
import { readSession } from '../manifest/read-session.ts';
import { type Host, makeReport } from '../report/make-report.ts';
import { reportFiles } from '../report/report-files.ts';
import { chooseLanguage } from '../report/words/languages.ts';
import { contentOf } from './content.ts';
import { DATA } from './data.ts';
import { filesOf, type Given, ROOT } from './files.ts';
import { gunzip } from './gunzip.ts';
import type { LogChecksum } from './hash.ts';
import { logIoOf } from './log-io.ts';

export interface BuildOptions {
  readonly page?: 'a4' | 'letter';
  readonly language?: string;
}

export interface Built {
  readonly id: string;
  /** By path in the archive. */
  readonly files: ReadonlyMap<string, string>;
}

/** Of a file of so many bytes. */
export type Hash = (size: number) => LogChecksum;
export type OnProgress = (bytesDone: number, bytesTotal: number) => void;

export function ioOf(given: readonly Given[], hash: Hash): LogIo {
  const plainRows = new WebAssembly.Module(Uint8Array.from(atob(DATA.plainRows), (sign) => sign.charCodeAt(0)));
  return logIoOf(given, { gunzip, plainRows }, hash);
}

/** Throws a `UserError` with the messages of `check` where the session cannot be reported. */
export async function build(
  given: readonly Given[],
  options: BuildOptions,
  hash: Hash,
  onProgress: OnProgress,
): Promise<Built> {
  const files = filesOf(given);
  const io = ioOf(given, hash);
  const { shop } = DATA;
  const host: Host = { files, readLog: (asked) => readLog({ ...asked, io }), drawer: () => ({ draw: rawSvg }) };
  const manifest = readSession(ROOT, files);
  const language = chooseLanguage({ asked: options.language, session: manifest, shop, there: DATA.languages });
  const content = contentOf(language);
  const nowhere = { name: 'this page', read: async () => null };
  const session = await withBaseline({ ...manifest, language }, nowhere, () => content);
  const pageSize = options.page ?? shop?.pageSize ?? 'a4';
  const made = await makeReport(session, host, {
    pageSize,
    language,
    version: DATA.version,
    content,
    shop: shop ?? undefined,
    onProgress,
  });
  const { report } = made;
  const written = new Map<string, string>();
  for (const [path, text] of reportFiles(made)) written.set(`sessions/${report.session.id}/${path}`, text);
  await addArchive(written, asStored(report), pageSize, options.language);
  return { id: report.session.id, files: written };
}

/** The archive's own pages, as if this were its first session. */
async function addArchive(
  written: Map<string, string>,
  report: ReturnType<typeof asStored>,
  pageSize: 'a4' | 'letter',
  asked: string | undefined,
): Promise<void> {
  const { shop, languages } = DATA;
  const content = contentOf(shop?.language ?? chooseLanguage({ asked, shop, there: languages }));
  const sessions = [{ summary: summaryOf(report), sha256: '' }];
  await archivePages({ sessions, damaged: [], compared: [] }, { content, pageSize }, async (path, _, make) => {
    written.set(path, make());
  });
}
