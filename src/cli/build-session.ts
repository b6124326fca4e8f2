/** One session of a build: made where it has changed, printed where only its PDF is missing, left as it is otherwise. */

import { existsSync } from 'node:fs';
import { readFile, rm } from 'node:fs/promises';
import { join, resolve } from 'node:path';
import { withBaseline } from '../archive/baseline.ts';
import { findMade, type Made, noteLogs, noteMadeFrom, sessionKey, stampLogs } from '../archive/made-from.ts';
import { healthyOf } from '../archive/models/healthy.ts';
import { openTraces } from '../archive/open-traces.ts';
import { shareLogs } from '../archive/same-job.ts';
import { folderKey, otherSession, refusal } from '../archive/same-session.ts';
import { archiveIn } from '../archive/stored.ts';
import type { Summary } from '../archive/summary/summary.ts';
import { nodeFiles } from '../base/disk/node-files.ts';
import { replaceFile } from '../base/disk/write-file.ts';
import { UserError } from '../base/problem.ts';
import { readSession } from '../manifest/read-session.ts';
import type { Session } from '../manifest/session.ts';
import { languagesThere, loadContent } from '../node/content.ts';
import { makeReport } from '../node/make-report.ts';
import { neutralId } from '../node/neutral-id.ts';
import { VERSION } from '../node/version.ts';
import type { Healthy } from '../report/model/values.ts';
import { withPdfLink } from '../report/page/page.ts';
import { type PdfPart, type PdfWish, pdfsOf } from '../report/pdf/pdf-names.ts';
import { redacted } from '../report/redact.ts';
import { reportJson } from '../report/report-files.ts';
import type { Shop } from '../report/shop/shop.ts';
import type { Content } from '../report/words/content.ts';
import { chooseLanguage } from '../report/words/languages.ts';
import { writeReport } from '../report/write-report.ts';
import type { LazyPrinter } from './lazy-printer.ts';
import { printPdfs } from './print-report.ts';
import type { Progress } from './progress.ts';

export interface BuildOptions {
  readonly out: string;
  readonly pdf: boolean;
  /** The shop's, or A4, where not named. */
  readonly page?: 'a4' | 'letter';
  /** Comes before the session's own and the shop's. */
  readonly language?: string;
  readonly redact: boolean;
  /** The customer's page as a PDF of its own, too; the shop's wish where not said. */
  readonly customerPdf?: boolean;
  /** Pattern of the names under which the PDFs stand a second time. */
  readonly pdfName?: string;
  readonly jobs: number;
  readonly browser?: string;
  readonly quiet?: boolean;
  /** A session may take the place of another of its id. */
  readonly replace?: boolean;
  /** Once it is given no further session is begun. */
  readonly signal?: AbortSignal;
  /** Is told of each session that could not be reported, at once. */
  readonly onRefused?: (folder: string, error: unknown) => void;
}

/** What the sessions of one build share. */
export interface Shared {
  readonly options: BuildOptions;
  readonly printer: LazyPrinter | null;
  readonly shop: Shop | null;
  readonly pageSize: 'a4' | 'letter';
  /** `toolKey`: hash of code, prose and templates; and `shopKey`: of what the shop brings of its own. */
  readonly tool: string;
  readonly face: string;
  /** Folders by the session id that was found in them. */
  readonly seen: Map<string, string>;
  /** Of the archive's sessions, read once; asked for when its baselines are there. */
  readonly summaries: () => Promise<readonly Summary[]>;
  /** Does some writing while no other build writes into the archive. */
  readonly write: <T>(work: () => Promise<T>) => Promise<T>;
  /** For people, whatever else is shown. */
  readonly tell: (line: string) => void;
}

/** A session, and how it is to be reported. */
interface Task {
  /** As the call names it. */
  readonly folder: string;
  /** As its manifest tells it: what its report is made from. */
  readonly asWritten: Session;
  /** As it is reported: redacted where that is asked for, with limits from its baseline. */
  readonly session: Session;
  readonly language: string;
  readonly content: () => Content;
  /** Everything else that decides the report's bytes; `sessionKey`'s options. */
  readonly how: Readonly<Record<string, unknown>>;
  /** Healthy vehicles of its model; null where there are none. */
  readonly healthy: Healthy | null;
  /** The report's folder in the archive. */
  readonly target: string;
}

/** The report's page. Throws `UserError` where the session cannot be reported. */
export async function buildSession(folder: string, shared: Shared, progress: Progress): Promise<string> {
  const task = await taskOf(folder, shared);
  const { asWritten, session, how, target } = task;
  const { printer } = shared;
  const name = session.id.toLowerCase();
  const other = shared.seen.get(name);
  if (other !== undefined) {
    throw new UserError(
      `session.id "${session.id}" is also that of ${other}; each session of an archive needs its own.`,
    );
  }
  shared.seen.set(name, folder);
  // A link is no report of ours; it gives way to one.
  const there = nodeFiles.isLink(target)
    ? null
    : await findMade(target, asWritten, (logs) => sessionKey(asWritten, how, logs));
  if (!there) await makeAnew(task, shared, progress);
  else if (printer) await printMissing(task, there, { ...shared, printer }, progress);
  return join(target, 'index.html');
}

async function taskOf(folder: string, { options, shop, pageSize, tool, face, summaries }: Shared): Promise<Task> {
  const { redact, out } = options;
  const manifest = readSession(resolve(folder), nodeFiles);
  const language = chooseLanguage({
    asked: options.language,
    session: manifest,
    shop,
    there: languagesThere(shop?.content),
  });
  const content = () => loadContent(language, shop?.content, shop?.templates);
  const asWritten = { ...manifest, language };
  const shown = redact
    ? await redacted(asWritten, content().label(`purpose.${asWritten.purpose}`), () => neutralId(asWritten))
    : asWritten;
  const session = await withBaseline(shown, archiveIn(out), content);
  const healthy = await healthyOf(asWritten, { ...archiveIn(out), summaries });
  const { limits, limitsFrom } = session;
  const how = { tool, shop: face, pageSize, redact, language, limits, limitsFrom, healthy: healthy ?? undefined };
  return { folder, asWritten, session, language, content, how, healthy, target: join(out, 'sessions', session.id) };
}

async function makeAnew(task: Task, shared: Shared, progress: Progress): Promise<void> {
  const { folder, asWritten, session, language, how, healthy, target } = task;
  const { options, printer, shop, pageSize, write, tell } = shared;
  const { id } = session;
  const stamps = await stampLogs(asWritten);
  const claim = { session, asWritten, folder, out: options.out };
  const rival = await otherSession(claim);
  const made = await makeReport(session, {
    pageSize,
    language,
    shop: shop ?? undefined,
    version: VERSION,
    healthy,
    onProgress: progress.bytes,
  });
  const isItsOwn = rival === null || (rival.folder === id && shareLogs(rival.report, made.logHashes.values()));
  if (!isItsOwn && !options.replace) throw refusal(rival, claim);
  // Of the logs as they were read: one that grows meanwhile has another key next time, and is analysed again.
  const key = await sessionKey(asWritten, how, made.logHashes);
  const logs = await noteLogs(asWritten, stamps, made.logHashes);
  for (const remark of made.remarks) tell(`${folder}: ${remark}`);
  if (printer) progress.say('printing the PDF');
  const page = { name: folder, html: made.html, pageSize, dateMs: made.endS * 1000, data: reportJson(made.report) };
  const names = namesOf(task, shared, made.report.log.start);
  const pdfs = printer ? await printPdfs(page, names, printer) : null;
  await write(async () => {
    const traces = options.redact ? await openTraces(options.out, id) : [];
    const html = withPdfLink(made.html, pdfs?.keys() ?? []);
    await writeReport(options.out, { ...made, html, pdfs: pdfs ?? undefined });
    await noteMadeFrom(target, key, logs, options.redact ? undefined : folderKey(options.out, folder));
    // A folder whose name differs in case alone is the same one elsewhere.
    if (rival !== null && rival.folder !== id)
      await rm(join(options.out, 'sessions', rival.folder), { recursive: true });
    for (const path of traces) {
      await rm(path, { recursive: true });
      tell(`${path} was taken away: it showed what the redacted report of ${id} leaves out. Make it again.`);
    }
  });
  const open = join(options.out, 'sessions', asWritten.id);
  if (id !== asWritten.id && existsSync(open))
    tell(`${open} stays as it is: the redacted report is ${target}, since the id holds the registration or VIN.`);
}

/** The PDFs of a report that is whole but for them: none were wanted, or no browser could be had before. */
async function printMissing(
  task: Task,
  { key, logs, isWhole }: Made,
  shared: Shared & { readonly printer: LazyPrinter },
  progress: Progress,
): Promise<void> {
  const { asWritten, target, folder } = task;
  const { options, printer, pageSize, write } = shared;
  const read = (name: string) => readFile(join(target, name), 'utf8');
  // Only names for a mail ask for more than the report's folder.
  const named = wishOf(shared).pattern !== undefined;
  const names = namesOf(task, shared, named ? JSON.parse(await read('report.json')).log.start : null);
  const missing = new Map([...names].filter(([name]) => !isWhole(name)));
  if (missing.size === 0) return;
  progress.say('printing the PDF');
  const [html, data] = await Promise.all([read('index.html'), read('report.json')]);
  const dateMs = Date.parse(JSON.parse(data).log.end);
  const pdfs = await printPdfs({ name: target, html, pageSize, dateMs, data }, missing, printer);
  if (!pdfs) return;
  await write(async () => {
    // Another build may have replaced the report meanwhile.
    if (!(await findMade(target, asWritten, async () => key))) return;
    for (const [name, pdf] of pdfs) await replaceFile(join(target, name), pdf);
    await replaceFile(join(target, 'index.html'), withPdfLink(html, pdfs.keys()));
    await noteMadeFrom(target, key, logs, options.redact ? undefined : folderKey(options.out, folder));
  });
}

function wishOf({ options, shop }: Shared): PdfWish {
  return {
    customer: options.customerPdf ?? shop?.customerPdf ?? false,
    pattern: options.pdfName ?? shop?.pdfName ?? undefined,
  };
}

/** @param start of the log, ISO 8601; null where no name has a date in it */
function namesOf({ session, content }: Task, shared: Shared, start: string | null): ReadonlyMap<string, PdfPart> {
  const wish = wishOf(shared);
  return pdfsOf(wish, session, start === null ? 0 : Date.parse(start), (key) => content().label(key));
}
