/** One session of a build: made where it has changed, printed where only its PDF is missing, left as it is otherwise. */
import { existsSync } from 'node:fs';
import { readFile, rm } from 'node:fs/promises';
import { join, resolve } from 'node:path';
import { withBaseline } from '../archive/baseline.ts';
import { findMade, type Made, noteLogs, noteMadeFrom, sessionKey, stampLogs } from '../archive/made-from.ts';
import { openTraces } from '../archive/open-traces.ts';
import { replaceFile } from '../archive/write-file.ts';
import { UserError } from '../manifest/problem.ts';
import { readSession } from '../manifest/read-session.ts';
import type { Session } from '../manifest/session.ts';
import { loadContent } from '../report/content.ts';
import { chooseLanguage } from '../report/languages.ts';
import { makeReport } from '../report/make-report.ts';
import { redacted } from '../report/redact.ts';
import { type Shop, shopKey } from '../report/shop.ts';
import { withData, writeReport } from '../report/write-report.ts';
import type { BuildOptions } from './build.ts';
import type { LazyPrinter } from './lazy-printer.ts';
import type { Progress } from './progress.ts';
import { VERSION } from './version.ts';

/** What the sessions of one build share. */
export interface Shared {
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
  /** For people, whatever else is shown. */
  readonly tell: (line: string) => void;
}

/** The report's page. Throws `UserError` where the session cannot be reported. */
export async function buildSession(folder: string, shared: Shared, progress: Progress): Promise<string> {
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
  const there = await findMade(target, told, (logs) => sessionKey(told, how, logs));
  if (there) {
    if (there.lacksPdf && printer) await printAgain(target, told, there, shared, progress);
    return page;
  }
  const stamps = await stampLogs(told);
  const made = await makeReport(session, {
    pageSize,
    language,
    shop: shop ?? undefined,
    version: VERSION,
    onProgress: progress.bytes,
  });
  // Of the logs as they were read: one that grows meanwhile has another key next time, and is analysed again.
  const key = await sessionKey(told, how, made.logHashes);
  const logs = await noteLogs(told, stamps, made.logHashes);
  if (printer) progress.say('printing the PDF');
  const pdf = await printer?.print(folder, made.html, pageSize, made.endS * 1000);
  await shared.write(async () => {
    const traces = redact ? await openTraces(options.out, id) : [];
    await writeReport(options.out, { ...made, pdf: pdf ?? undefined });
    await noteMadeFrom(target, key, logs);
    for (const path of traces) {
      await rm(path, { recursive: true });
      shared.tell(`${path} was taken away: it showed what the redacted report of ${id} leaves out. Make it again.`);
    }
  });
  const open = join(options.out, 'sessions', manifest.id);
  if (id !== manifest.id && existsSync(open))
    shared.tell(
      `${open} stays as it is: the redacted report is ${target}, since the id holds the registration or VIN.`,
    );
  return page;
}

/** The PDF of a report that is whole but for it: where no browser could be had before, one may be there now. */
async function printAgain(
  target: string,
  session: Session,
  { key, logs }: Made,
  shared: Shared,
  progress: Progress,
): Promise<void> {
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
    if (!(await findMade(target, session, async () => key))) return;
    await replaceFile(join(target, 'report.pdf'), withData(pdf, data, dateMs));
    await noteMadeFrom(target, key, logs);
  });
}
