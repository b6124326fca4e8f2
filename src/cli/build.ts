/** `standstill build`: analyses sessions, writes their reports and brings the archive's index up to date. */
import { readFile } from 'node:fs/promises';
import { basename, join, resolve } from 'node:path';
import { withBaseline } from '../archive/baseline.ts';
import { writeArchiveIndex } from '../archive/index-page.ts';
import { withLock } from '../archive/lock.ts';
import { findMade, noteMadeFrom, sessionKey, toolKey } from '../archive/made-from.ts';
import { tidy } from '../archive/tidy.ts';
import { asWriteFault } from '../archive/write-fault.ts';
import { replaceFile } from '../archive/write-file.ts';
import { UserError } from '../manifest/problem.ts';
import { readSession } from '../manifest/read-session.ts';
import { loadContent } from '../report/content.ts';
import { chooseLanguage } from '../report/languages.ts';
import { makeReport } from '../report/make-report.ts';
import { redacted } from '../report/redact.ts';
import { loadShop, type Shop, shopKey } from '../report/shop.ts';
import { withData, writeReport } from '../report/write-report.ts';
import { failureText } from './failure.ts';
import { createLazyPrinter, type LazyPrinter } from './lazy-printer.ts';
import { createProgress, type Progress } from './progress.ts';
import type { Terminal } from './terminal.ts';
import { VERSION } from './version.ts';

export interface BuildOptions {
  readonly out: string;
  readonly pdf: boolean;
  /** The shop's, or A4, where not named. */
  readonly page?: 'a4' | 'letter';
  /** Comes before the session's own and the shop's. */
  readonly language?: string;
  readonly redact: boolean;
  readonly jobs: number;
  readonly browser?: string;
  readonly quiet?: boolean;
  /** Once it is given no further session is begun. */
  readonly signal?: AbortSignal;
}

/** What the sessions of one build share. */
interface Shared {
  readonly options: BuildOptions;
  readonly printer: LazyPrinter | null;
  readonly shop: Shop | null;
  readonly pageSize: 'a4' | 'letter';
  /** `toolKey`: hash of code, prose and templates. */
  readonly tool: string;
  /** Folders by the session id that was found in them. */
  readonly seen: Map<string, string>;
  /** Does some writing while no other build writes into the archive. */
  readonly write: <T>(work: () => Promise<T>) => Promise<T>;
}

/**
 * 0: every session has its report; 1: at least one has not, each named. A session whose report was made from the same
 * things is left as it is.
 */
export async function build(folders: readonly string[], options: BuildOptions, terminal: Terminal): Promise<0 | 1> {
  const wait = (holder: string) => terminal.err(`Waiting for ${holder}, which is writing into ${options.out}.\n`);
  const write = inTurn((work) =>
    withLock(options.out, work, wait).catch((error: unknown) => {
      throw asWriteFault(error, options.out);
    }),
  );
  await write(() => tidy(options.out));
  const shop = loadShop(options.out);
  const pageSize = options.page ?? shop?.pageSize ?? 'a4';
  // What is off in the call is told before anything is built.
  const asked = chooseLanguage({ asked: options.language, shop });
  const printer = options.pdf ? createLazyPrinter(options.browser) : null;
  const shared: Shared = { options, write, shop, pageSize, printer, tool: toolKey(VERSION), seen: new Map() };
  const failed = await buildAll(folders, shared, terminal);
  await printer?.close();
  if (printer?.refused) terminal.err(`No PDF was written: ${printer.refused.message}\n`);
  const content = loadContent(shop?.language ?? asked, shop?.content);
  const archive = await write(() => writeArchiveIndex(options.out, { content, pageSize }));
  for (const { folder, message } of archive.damaged) terminal.err(`${folder}: ${message}\n`);
  if (failed > 0) terminal.err(`${failed} of ${folders.length} sessions could not be reported.\n`);
  return failed > 0 ? 1 : 0;
}

/** Our own sessions wait for each other here, so that the lock's messages are about others. */
function inTurn(write: Shared['write']): Shared['write'] {
  let last: Promise<unknown> = Promise.resolve();
  return (work) => {
    const now = last.then(() => write(work));
    last = now.catch(() => {});
    return now;
  };
}

/** How many could not be reported. Sessions that take limits from another come last: it may be among these. */
async function buildAll(folders: readonly string[], shared: Shared, terminal: Terminal): Promise<number> {
  const { jobs, quiet, signal } = shared.options;
  const last = new Set(folders.filter(takesLimits));
  let [begun, failed] = [0, 0];
  const work = async (queue: string[]) => {
    for (let folder = queue.shift(); folder !== undefined && !signal?.aborted; folder = queue.shift()) {
      begun++;
      const place = folders.length > 1 ? `${begun} of ${folders.length}  ` : '';
      const progress = createProgress(terminal, `${place}${basename(resolve(folder))}`);
      try {
        const page = await buildOne(folder, shared, progress);
        progress.clear();
        if (!quiet) terminal.out(`${page}\n`);
      } catch (error) {
        failed++;
        progress.clear();
        terminal.err(failureText(error, folder));
      }
    }
  };
  for (const queue of [folders.filter((folder) => !last.has(folder)), [...last]]) {
    await Promise.all(Array.from({ length: jobs }, () => work(queue)));
  }
  return failed;
}

/** A manifest that cannot be read is told when its turn comes. */
function takesLimits(folder: string): boolean {
  try {
    return readSession(resolve(folder)).limitsFrom !== undefined;
  } catch {
    return false;
  }
}

/** The report's page. */
async function buildOne(folder: string, shared: Shared, progress: Progress): Promise<string> {
  const { options, printer, shop, pageSize, tool, seen } = shared;
  const manifest = readSession(resolve(folder));
  const language = chooseLanguage({ asked: options.language, session: manifest, shop });
  const content = () => loadContent(language, shop?.content);
  const told = { ...manifest, language };
  const own = options.redact ? await redacted(told, content().label(`purpose.${told.purpose}`)) : told;
  const session = await withBaseline(own, options.out, content);
  const { id, limits, limitsFrom } = session;
  const other = seen.get(id);
  if (other !== undefined) {
    throw new UserError(`session.id "${id}" is also that of ${other}; each session of an archive needs its own.`);
  }
  seen.set(id, folder);
  const target = join(options.out, 'sessions', id);
  const page = join(target, 'index.html');
  const { redact } = options;
  const how = { tool, shop: shopKey(shop), pageSize, redact, language, limits, limitsFrom };
  const there = await findMade(target, () => sessionKey(told, how));
  if (there) {
    if (there.lacksPdf && printer) await printAgain(target, there.key, shared, progress);
    return page;
  }
  const made = await makeReport(session, {
    pageSize,
    language,
    shop: shop ?? undefined,
    version: VERSION,
    onProgress: progress.bytes,
  });
  // Of the logs as they were read: one that grows meanwhile has another key next time, and is analysed again.
  const key = await sessionKey(told, how, made.logHashes);
  if (printer) progress.say('printing the PDF');
  const pdf = await printer?.print(folder, made.html, pageSize, made.endS * 1000);
  await shared.write(async () => {
    await writeReport(options.out, { ...made, pdf: pdf ?? undefined });
    await noteMadeFrom(target, key);
  });
  return page;
}

/** The PDF of a report that is whole but for it: where no browser could be had before, one may be there now. */
async function printAgain(target: string, key: string, shared: Shared, progress: Progress): Promise<void> {
  const { printer, pageSize, write } = shared;
  progress.say('printing the PDF');
  const [html, data] = await Promise.all(
    ['index.html', 'report.json'].map((name) => readFile(join(target, name), 'utf8')),
  );
  const dateMs = Date.parse(JSON.parse(data).log.end);
  const pdf = await printer?.print(target, html, pageSize, dateMs);
  if (!pdf) return;
  await write(async () => {
    // Another build may have replaced the report meanwhile.
    if (!(await findMade(target, async () => key))) return;
    await replaceFile(join(target, 'report.pdf'), withData(pdf, data, dateMs));
    await noteMadeFrom(target, key);
  });
}
