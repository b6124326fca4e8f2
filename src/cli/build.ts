/** `standstill build`: analyses sessions, writes their reports and brings the archive's index up to date. */

import { basename, resolve } from 'node:path';
import { writeArchiveIndex } from '../archive/index-page.ts';
import { toolKey } from '../archive/made-from.ts';
import { asksModel } from '../archive/models/healthy.ts';
import { readSummaries } from '../archive/summary/store.ts';
import { tidy } from '../archive/tidy.ts';
import { withLock } from '../base/disk/lock.ts';
import { nodeFiles } from '../base/disk/node-files.ts';
import { asWriteFault } from '../base/disk/write-fault.ts';
import { manifestText, readSession } from '../manifest/read-session.ts';
import { languagesThere, loadContent } from '../node/content.ts';
import { loadShop, shopKey } from '../node/shop.ts';
import { VERSION } from '../node/version.ts';
import { chooseLanguage } from '../report/words/languages.ts';
import { type BuildOptions, buildSession, type Shared } from './build-session.ts';
import { writeDesk } from './desk-page.ts';
import { failureText } from './failure.ts';
import { createLazyPrinter, printerTrouble } from './lazy-printer.ts';
import { createProgress } from './progress.ts';
import { sessionFolder } from './session-folder.ts';
import { tellWait } from './tell-wait.ts';
import type { Terminal } from './terminal.ts';

/**
 * 0: every session has its report; 1: at least one has not, each named. A session whose report was made from the same
 * things is left as it is.
 */
export async function build(paths: readonly string[], options: BuildOptions, terminal: Terminal): Promise<0 | 1> {
  // A folder that is named twice is built once.
  const named = paths.map(sessionFolder);
  const folders = named.filter((folder, k) => named.findIndex((one) => resolve(one) === resolve(folder)) === k);
  const wait = tellWait(options.out, terminal);
  const write = inTurn((work) =>
    withLock(options.out, work, wait).catch((error: unknown) => {
      throw asWriteFault(error, options.out);
    }),
  );
  await write(() => tidy(options.out));
  const shop = loadShop(options.out);
  const pageSize = options.page ?? shop?.pageSize ?? 'a4';
  // What is off in the call is told before anything is built.
  const language = chooseLanguage({ asked: options.language, shop, there: languagesThere(shop?.content) });
  const printer = options.pdf ? createLazyPrinter(options.browser) : null;
  const tell = (line: string) => terminal.err(`${line}\n`);
  const keys = { tool: toolKey(VERSION), face: shopKey(shop) };
  const summaries = once(async () => {
    const { entries } = await readSummaries(options.out, keys.tool + keys.face, false);
    return entries.map(({ summary }) => summary);
  });
  const shared: Shared = { options, write, tell, shop, pageSize, printer, ...keys, summaries, seen: new Map() };
  const failed = await buildAll(folders, shared, terminal);
  await printer?.close();
  if (printer) terminal.err(printerTrouble(printer));
  // A report in another language than the shop's changes nothing about its archive.
  const content = loadContent(shop?.language ?? language, shop?.content, shop?.templates);
  const archive = await write(async () => {
    await writeDesk(options.out, { version: VERSION, shop, keys, language: shop?.language ?? options.language });
    return writeArchiveIndex(options.out, { content, pageSize, key: keys.tool + keys.face, desk: true });
  });
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

function once<T>(work: () => Promise<T>): () => Promise<T> {
  let done: Promise<T> | undefined;
  return () => {
    done ??= work();
    return done;
  };
}

/**
 * How many could not be reported. Sessions that take limits from another come after those that do not, and what is held against the
 * archive's baselines last: they may be among these.
 */
async function buildAll(folders: readonly string[], shared: Shared, terminal: Terminal): Promise<number> {
  const { jobs, quiet, signal, onRefused } = shared.options;
  let [begun, failed] = [0, 0];
  const work = async (queue: string[]) => {
    for (let folder = queue.shift(); folder !== undefined && !signal?.aborted; folder = queue.shift()) {
      begun++;
      const place = folders.length > 1 ? `${begun} of ${folders.length}  ` : '';
      const progress = createProgress(terminal, `${place}${basename(resolve(folder))}`);
      try {
        const page = await buildSession(folder, shared, progress);
        progress.clear();
        if (!quiet) terminal.out(`${page}\n`);
      } catch (error) {
        failed++;
        progress.clear();
        terminal.err(failureText(error, folder));
        onRefused?.(folder, error);
      }
    }
  };
  const turns = folders.map((folder) => ({ folder, turn: turnOf(folder) }));
  for (const now of [0, 1, 2]) {
    const queue = turns.flatMap(({ folder, turn }) => (turn === now ? [folder] : []));
    await Promise.all(Array.from({ length: jobs }, () => work(queue)));
  }
  return failed;
}

/**
 * 0: it waits for nobody; 1: a baseline that takes limits from another; 2: what is held against baselines. A manifest that cannot be read
 * is told when its turn comes. Most need no closer look than whether a key is there.
 */
function turnOf(named: string): 0 | 1 | 2 {
  const folder = resolve(named);
  try {
    if (!/from|model/.test(manifestText(folder, nodeFiles))) return 0;
    const session = readSession(folder, nodeFiles);
    if (asksModel(session)) return 2;
    if (!session.limitsFrom) return 0;
    return session.purpose === 'baseline' ? 1 : 2;
  } catch {
    return 0;
  }
}
