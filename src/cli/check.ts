/** `standstill check`: what was understood of manifest and log, every fault of either, and what the log can decide. Writes nothing. */

import { resolve } from 'node:path';
import { withBaseline } from '../archive/baseline.ts';
import { archiveIn } from '../archive/stored.ts';
import { nodeFiles } from '../base/disk/node-files.ts';
import { UserError } from '../base/problem.ts';
import { runChecks } from '../checks/run.ts';
import { MANIFEST, readSession } from '../manifest/read-session.ts';
import type { Session } from '../manifest/session.ts';
import { compareFitting } from '../measures/fitting-record.ts';
import { languagesThere, loadContent } from '../node/content.ts';
import { readLogs } from '../node/make-report.ts';
import { loadShop } from '../node/shop.ts';
import { VERSION } from '../node/version.ts';
import { buildReport } from '../report/build-report.ts';
import { readPhotos } from '../report/pictures/photos.ts';
import { remarksOf } from '../report/remarks.ts';
import type { Shop } from '../report/shop/shop.ts';
import { languageFault } from '../report/words/languages.ts';
import { type Account, checkWords } from './check-words.ts';
import { failureText } from './failure.ts';
import { createProgress } from './progress.ts';
import { sessionFolder } from './session-folder.ts';
import type { Terminal } from './terminal.ts';

/**
 * 0: every session can be reported, however faulty its log; 1: at least one cannot. `out` is the archive that it would be
 * built into, with the shop's own languages and the sessions that limits are taken from.
 */
export async function check(
  folders: readonly string[],
  options: { readonly json: boolean; readonly out: string },
  terminal: Terminal,
): Promise<0 | 1> {
  const shop = loadShop(options.out);
  let failed = 0;
  for (const folder of folders.map(sessionFolder)) {
    const progress = createProgress(terminal, folder);
    try {
      const asWritten = readSession(resolve(folder), nodeFiles);
      const session = await withBaseline(asWritten, archiveIn(options.out), () => loadContent('en'));
      const analysis = await readLogs(session, progress.bytes);
      const findings = runChecks(analysis, session);
      const report = buildReport({
        session,
        analysis,
        findings,
        language: 'en',
        version: VERSION,
        content: loadContent('en'),
      });
      const { photos, shown } = readPhotos(session, nodeFiles);
      const remarks = remarksOf({ ...session, photos }, shown, analysis);
      const account = { report, fitting: compareFitting(analysis, session), remarks };
      progress.clear();
      terminal.out(
        options.json ? `${JSON.stringify(asJson(account))}\n` : `${checkWords(account, terminal.columns).join('\n')}\n`,
      );
      // Last: whatever language it would be written in, manifest and log are told first.
      refuseLanguage(session, shop, options.out);
    } catch (error) {
      failed++;
      progress.clear();
      terminal.err(failureText(error, folder));
    }
  }
  return failed > 0 ? 1 : 0;
}

/** Throws where `build` into the same archive would: it knows our languages and the shop's. */
function refuseLanguage({ language, languageAt }: Session, shop: Shop | null, out: string): void {
  const fault = language === undefined ? undefined : languageFault(language, languagesThere(shop?.content));
  if (fault === undefined) return;
  const none = shop ? '' : ` A shop's own come with its shop.yaml, and ${out} has none; --out names another archive.`;
  throw new UserError([{ file: MANIFEST, ...languageAt, path: 'session.language', message: fault + none }]);
}

function asJson({ report, fitting, remarks }: Account) {
  const { session, log, findings } = report;
  const decided = findings.filter(({ status }) => status !== 'undecided').map((finding) => finding.check);
  const undecided = findings
    .filter(({ status }) => status === 'undecided')
    .map(({ check, reason }) => ({ check, reason }));
  return { session, log, decided, undecided, fitting, remarks };
}
