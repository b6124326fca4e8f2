/** The street as a worker of the page walks it: from files to everything that `build` writes of them, the PDF aside. */
import { withBaseline } from '../archive/baseline.ts';
import { healthyOf } from '../archive/models/healthy.ts';
import { archivePages } from '../archive/pages/archive-pages.ts';
import { keyOf } from '../archive/session-key.ts';
import { asStored } from '../archive/stored-report.ts';
import { summaryOf } from '../archive/summary/summary.ts';
import type { Files } from '../base/files.ts';
import { rawSvg } from '../charts/drawing/draw.ts';
import { MANIFEST, readSession, resolveLogFiles } from '../manifest/read-session.ts';
import type { Session } from '../manifest/session.ts';
import { type Host, makeReport } from '../report/make-report.ts';
import { redacted } from '../report/redact.ts';
import { reportFiles } from '../report/report-files.ts';
import { chooseLanguage } from '../report/words/languages.ts';
import { type ArchiveSource, archiveOf, folderOf } from './archive/folder.ts';
import { readSummaries } from './archive/pages.ts';
import { contentOf } from './content.ts';
import { DATA } from './data.ts';
import { drawSvg } from './draw-svg.ts';
import { filesOf, type Given, ROOT } from './files.ts';
import { createSha256, type Hash } from './hash.ts';
import { ioOf } from './log-io.ts';
import { readGiven } from './log-reader.ts';

export interface BuildOptions {
  readonly page?: 'a4' | 'letter';
  readonly language?: string;
  readonly redact?: boolean;
  /** Where a healthy session is looked for whose values become limits. */
  readonly archive?: { readonly name: string; readonly source: ArchiveSource };
}

export interface Built {
  readonly id: string;
  /** By path in the archive. */
  readonly files: ReadonlyMap<string, string>;
  readonly pageSize: 'a4' | 'letter';
  /** What an archive asks of a session that is put into it. */
  readonly key: string;
  readonly logHashes: readonly string[];
  readonly told: Pick<Session, 'vehicle' | 'repairOrder'>;
  readonly redacted: boolean;
}

export type OnProgress = (bytesDone: number, bytesTotal: number) => void;

/** Work that others do, each at the other end of a port, in a worker of its own. */
export interface Helpers {
  readonly hash: Hash;
  readonly reader: (port: MessagePort) => void;
}

/** Throws a `UserError` with the messages of `check` where the session cannot be reported. */
export async function build(
  given: readonly Given[],
  options: BuildOptions,
  { hash, reader }: Helpers,
  onProgress: OnProgress,
): Promise<Built> {
  const files = filesOf(given);
  const io = ioOf(given, hash);
  const { shop } = DATA;
  const host: Host = {
    files,
    readLog: (asked) => readGiven(asked, given, io, reader),
    drawer: () => ({ draw: rawSvg }),
  };
  const manifest = readSession(ROOT, files);
  const language = chooseLanguage({ asked: options.language, session: manifest, shop: DATA, there: DATA.languages });
  const content = contentOf(language);
  const { archive, redact = false } = options;
  const where = archive
    ? modelArchiveOf(archive)
    : { name: 'this page', read: async () => null, summaries: async () => [] };
  const told = { ...manifest, language };
  const shown = redact
    ? await redacted(told, content.label(`purpose.${told.purpose}`), () => neutralId(told, files, given))
    : told;
  const session = await withBaseline(shown, where, () => content);
  const healthy = await healthyOf(told, where);
  const pageSize = options.page ?? shop?.pageSize ?? 'a4';
  const made = await makeReport(session, host, {
    pageSize,
    language,
    version: DATA.version,
    content,
    shop: shop ?? undefined,
    healthy,
    onProgress,
  });
  const { report, logHashes } = made;
  const written = new Map<string, string>();
  for (const [path, text] of reportFiles(made)) written.set(`sessions/${report.session.id}/${path}`, text);
  await addArchive(written, asStored(report), pageSize, options.language);
  const { limits, limitsFrom } = session;
  const names = [MANIFEST, ...resolveLogFiles(told, files), ...told.photos.map(({ file }) => file)];
  return {
    id: report.session.id,
    files: written,
    pageSize,
    key: keyOf(
      {
        tool: DATA.keys.tool,
        shop: DATA.keys.face,
        pageSize,
        redact,
        language,
        limits,
        limitsFrom,
        healthy: healthy ?? undefined,
      },
      names.map((name) => [name, logHashes.get(name) ?? hashOf(files.readFile(`${ROOT}/${name}`))]),
    ),
    logHashes: [...logHashes.values()],
    told: { vehicle: told.vehicle, repairOrder: told.repairOrder },
    redacted: redact,
  };
}

function modelArchiveOf({ source, name }: NonNullable<BuildOptions['archive']>) {
  const folder = folderOf(source);
  const { tool, face } = DATA.keys;
  const summaries = async () => (await readSummaries(folder, tool + face)).sessions.map(({ summary }) => summary);
  return { ...archiveOf(folder, name), summaries };
}

/** As on the command line: from the logs' content alone. */
async function neutralId(session: Session, files: Files, given: readonly Given[]): Promise<string> {
  const hash = createSha256();
  const byPath = new Map(given.map(({ path, file }) => [path, file]));
  for (const name of resolveLogFiles(session, files)) {
    const file = byPath.get(name);
    for (let at = 0; file && at < file.size; at += PIECE)
      hash.update(new Uint8Array(await file.slice(at, at + PIECE).arrayBuffer()));
  }
  return `redacted-${(await hash.digest()).slice(0, 12)}`;
}

const PIECE = 4 << 20;

function hashOf(bytes: Uint8Array): string {
  const hash = createSha256();
  hash.update(bytes);
  return hash.digest() as string;
}

/** The archive's own pages, as if this were its first session. */
async function addArchive(
  written: Map<string, string>,
  report: ReturnType<typeof asStored>,
  pageSize: 'a4' | 'letter',
  asked: string | undefined,
): Promise<void> {
  const content = contentOf(DATA.language ?? chooseLanguage({ asked, there: DATA.languages }));
  const sessions = [{ summary: summaryOf(report), sha256: '' }];
  await archivePages(
    { sessions, damaged: [], compared: [] },
    { content, pageSize, drawSvg, desk: true },
    async (path, _, make) => {
      written.set(path, await make());
    },
  );
}
