/** `standstill compare`: two sessions side by side. Works from their `report.json`, which is the product; opens no log. */

import { existsSync } from 'node:fs';
import { basename, dirname, join, resolve } from 'node:path';
import { compareReports } from '../archive/comparison/comparison.ts';
import { makeComparison } from '../archive/comparison/comparison-page.ts';
import type { ComparisonJson } from '../archive/comparison/contract.ts';
import { pairName } from '../archive/comparison/pairs.ts';
import { writeComparison } from '../archive/comparison/write-comparison.ts';
import { readStored } from '../archive/stored.ts';
import type { StoredReport } from '../archive/stored-report.ts';
import { withLock } from '../base/disk/lock.ts';
import { nodeFiles } from '../base/disk/node-files.ts';
import { asWriteFault } from '../base/disk/write-fault.ts';
import { UserError } from '../base/problem.ts';
import { lastOf } from '../base/there.ts';
import { readSession } from '../manifest/read-session.ts';
import { languagesThere, loadContent } from '../node/content.ts';
import { drawSvg } from '../node/drawer.ts';
import { loadShop } from '../node/shop.ts';
import { VERSION } from '../node/version.ts';
import { chooseLanguage } from '../report/words/languages.ts';
import { createLazyPrinter, printerTrouble } from './lazy-printer.ts';
import { tellWait } from './tell-wait.ts';
import type { Terminal } from './terminal.ts';

export interface CompareOptions {
  readonly out: string;
  readonly pdf: boolean;
  readonly page?: 'a4' | 'letter';
  readonly browser?: string;
  readonly json: boolean;
  /** That of the later report where not named. */
  readonly language?: string;
}

/**
 * Each of `names` but the last beside the last; healthy vehicles of its model among them. 0 whatever the verdict; a `UserError` where two
 * cannot be compared: nothing is written then.
 */
export async function compare(names: readonly string[], options: CompareOptions, terminal: Terminal): Promise<0> {
  const found = await Promise.all(names.map((name) => find(name, options.out)));
  const after = lastOf(found);
  const comparisons = found.slice(0, -1).map((before) => compareReports(before, after));
  const shop = loadShop(options.out);
  const pageSize = options.page ?? shop?.pageSize ?? 'a4';
  const language = chooseLanguage({
    asked: options.language,
    session: { language: after.language },
    shop,
    there: languagesThere(shop?.content),
  });
  const content = loadContent(language, shop?.content, shop?.templates);
  const printer = options.pdf ? createLazyPrinter(options.browser) : null;
  const answers: ComparisonJson[] = [];
  try {
    for (const comparison of comparisons) {
      const made = await makeComparison(comparison, { pageSize, content, version: VERSION, drawSvg });
      const ids = { before: comparison.before.session.id, after: after.session.id };
      const pdf = (await printer?.print(pairName(ids.before, ids.after), made.html, pageSize, made.dateMs)) ?? null;
      const folder = await withLock(
        options.out,
        () => writeComparison(options.out, ids, made, pdf),
        tellWait(options.out, terminal),
      ).catch((error: unknown) => {
        throw asWriteFault(error, options.out);
      });
      answers.push(made.json);
      if (!options.json) terminal.out(`${join(folder, 'index.html')}\n`);
    }
    if (printer) terminal.err(printerTrouble(printer));
  } finally {
    await printer?.close();
  }
  // One answer is given as it always was.
  if (options.json) terminal.out(`${JSON.stringify(answers.length === 1 ? answers[0] : answers)}\n`);
  return 0;
}

/**
 * A session by its id in the archive, by the folder of its report (or the `report.json` in it), or by its session folder,
 * whose report is then looked for in the archive.
 */
async function find(name: string, out: string): Promise<StoredReport> {
  const given = basename(name) === 'report.json' ? dirname(name) : name;
  if (existsSync(join(given, 'report.json'))) return open(resolve(given), name);
  const isSession = existsSync(join(given, 'session.yaml'));
  const id = isSession ? readSession(resolve(given), nodeFiles).id : name;
  const inArchive = /^[A-Za-z0-9-]+$/.test(id) ? join(out, 'sessions', id) : null;
  if (inArchive && existsSync(join(inArchive, 'report.json'))) return open(inArchive, name);
  throw new UserError(
    isSession
      ? `${name}: its session "${id}" has no report in ${out}. Build it first: standstill build ${name} --out ${out}`
      : `${name}: there is no such session in ${out}. Expected: a session's id in the archive, the folder of a report, or a session folder that has been built.`,
  );
}

async function open(folder: string, name: string): Promise<StoredReport> {
  const read = await readStored(folder, name);
  if ('message' in read) throw new UserError([{ file: name, message: read.message }]);
  return read.report;
}
