/** One session, from its folder to everything that is written of it; a pure function of the folder's content. */

import { createAnalyser } from '../analysis/analyse.ts';
import type { Analysis } from '../analysis/analysis.ts';
import { beginCharts, type Chart } from '../charts/charts.ts';
import { startDrawer } from '../charts/drawer.ts';
import type { Finding } from '../checks/check.ts';
import { runChecks } from '../checks/run.ts';
import type { LogAccount } from '../log/block.ts';
import { readLog } from '../log/read-log.ts';
import { readSession, resolveLogFiles } from '../manifest/read-session.ts';
import type { Session } from '../manifest/session.ts';
import { buildReport } from './build-report.ts';
import { loadContent } from './content.ts';
import { seriesOf } from './explore.ts';
import { renderPage } from './page.ts';
import { readPhotos } from './photos.ts';
import type { Report } from './report.ts';
import type { Shop } from './shop.ts';

export interface ReportOptions {
  readonly pageSize: 'a4' | 'letter';
  readonly language: string;
  readonly redact: boolean;
  readonly version: string;
  /** The shop's own face, words and templates; from `loadShop`. */
  readonly shop?: Shop | null;
  readonly onProgress?: (bytesDone: number, bytesTotal: number) => void;
}

export interface Read {
  readonly session: Session;
  readonly log: LogAccount;
  readonly analysis: Analysis;
}

export interface MadeReport {
  readonly report: Report;
  readonly charts: readonly Chart[];
  readonly html: string;
  /** s since the epoch; the document's date. */
  readonly endS: number;
}

/** Reads manifest and log and analyses them. Throws `UserError` where either cannot be used. */
export async function readFolder(folder: string, onProgress?: ReportOptions['onProgress']): Promise<Read> {
  const session = readSession(folder);
  const analyser = createAnalyser(session);
  const log = await readLog({
    session,
    files: resolveLogFiles(session),
    onBlock: (block) => analyser.push(block),
    onProgress,
  });
  return { session, log, analysis: analyser.finish(log) };
}

export async function makeReport(folder: string, options: ReportOptions): Promise<MadeReport> {
  startDrawer();
  const { session, analysis } = await readFolder(folder, options.onProgress);
  const findings = runChecks(analysis, session);
  const { language, redact, version, pageSize, shop } = options;
  const content = loadContent(language, shop?.content);
  const finishCharts = beginCharts({ analysis, session, findings, words: content.words });
  const report = buildReport({ session, analysis, findings, language, version, redact, content });
  const charts = await finishCharts((draft) => describe(draft, report, findings));
  return {
    report,
    charts,
    html: renderPage(report, charts, {
      pageSize,
      shop,
      content,
      series: seriesOf(analysis),
      // A photo may show what a redacted report leaves out.
      photos: redact ? undefined : readPhotos(session),
    }),
    endS: analysis.end,
  };
}

/** A chart read aloud states its conclusion: that of the finding it is evidence for, or of the whole report. */
function describe(draft: { title: string; check: string | null }, report: Report, findings: readonly Finding[]) {
  const at = findings.findIndex((finding) => finding.check === draft.check);
  return { title: draft.title, desc: at < 0 ? report.summary.answer : report.findings[at].title };
}
