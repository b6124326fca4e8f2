/** One session, from its logs to everything that is written of it; a pure function of the folder's content. */

import { createAnalyser } from '../analysis/analyse.ts';
import type { Analysis } from '../analysis/model.ts';
import type { Files } from '../base/files.ts';
import { beginDrawing, type Chart, type Drawing } from '../charts/charts.ts';
import type { Drawer } from '../charts/drawing/draw.ts';
import type { Finding } from '../checks/check.ts';
import { runChecks } from '../checks/run.ts';
import type { LogAccount } from '../log/block.ts';
import type { ReadLogOptions } from '../log/read-log.ts';
import { resolveLogFiles } from '../manifest/read-session.ts';
import type { Session } from '../manifest/session.ts';
import { refuseOtherDay } from '../measures/wrong-day.ts';
import { refuseWrongUnits } from '../measures/wrong-units.ts';
import { buildReport } from './build-report.ts';
import type { Report } from './contract/report.ts';
import { modelPicture } from './model/picture.ts';
import type { Healthy } from './model/values.ts';
import { layPage, type PageOptions } from './page/page.ts';
import { portraitConclusions, portraitParts } from './page/portrait-parts.ts';
import { seriesOf } from './page/series.ts';
import { isShown } from './page/view-findings.ts';
import { readPhotos } from './pictures/photos.ts';
import { redactedLog } from './redact.ts';
import { remarksOf } from './remarks.ts';
import type { Shop } from './shop/shop.ts';
import type { Content } from './words/content.ts';

/** What a door brings: files, a reader for logs, someone who draws, words. */
export interface Host {
  readonly files: Files;
  readLog(options: Omit<ReadLogOptions, 'io'>): Promise<LogAccount>;
  /** First asked for when the log has been read, and a core that helped with it is free. */
  drawer(): Drawer;
}

export interface ReportOptions {
  readonly pageSize: 'a4' | 'letter';
  readonly language: string;
  readonly version: string;
  readonly content: Content;
  /** The shop's own face. */
  readonly shop?: Shop | null;
  /** What healthy vehicles of the model showed; null where nobody knows. */
  readonly healthy?: Healthy | null;
  readonly onProgress?: (bytesDone: number, bytesTotal: number) => void;
}

export interface MadeReport extends Rendered {
  readonly report: Report;
  /** s since the epoch; the document's date. */
  readonly endS: number;
  /** Hash of each log as it was read, by its name in the session's folder. */
  readonly logHashes: ReadonlyMap<string, string>;
  /** What stays out of the report, for whoever builds it; English. */
  readonly remarks: readonly string[];
}

/**
 * Reads the session's logs and analyses them. Throws `UserError` where they cannot be used.
 *
 * @param onRead called when all has been read
 */
export async function readLogs(
  session: Session,
  { files, readLog }: Pick<Host, 'files' | 'readLog'>,
  onProgress?: ReportOptions['onProgress'],
  onRead: () => void = () => {},
): Promise<Analysis> {
  const analyser = createAnalyser(session);
  const log = await readLog({
    session,
    files: resolveLogFiles(session, files),
    onBlock: (block) => analyser.push(block),
    onProgress,
  });
  onRead();
  const analysis = analyser.finish(log);
  refuseOtherDay(analysis, session);
  refuseWrongUnits(analysis, session);
  return analysis;
}

export async function makeReport(asWritten: Session, host: Host, options: ReportOptions): Promise<MadeReport> {
  const { photos, shown } = readPhotos(asWritten, host.files);
  const session = { ...asWritten, photos };
  const { language, version, pageSize, shop, content, healthy } = options;
  const read = await readLogs(session, host, options.onProgress, host.drawer);
  const analysis = session.redacted ? { ...read, log: redactedLog(read.log) } : read;
  const drawing = beginDrawing({ analysis, session, words: content.words }, host.drawer());
  const findings = runChecks(analysis, session);
  drawing.add(findings, (draft) => isShown(draft, findings));
  // From here on there are two at work.
  const report = buildReport({ session, analysis, findings, language, version, content, healthy });
  const page = await renderPage(
    { report, analysis, session, findings, drawing },
    { pageSize, shop, content, photos: shown },
  );
  return {
    report,
    ...page,
    endS: analysis.end,
    remarks: remarksOf(session, shown, analysis),
    logHashes: new Map(read.log.files.map(({ name, sha256 }) => [name, sha256])),
  };
}

export interface Rendered {
  /** The page, whole. */
  readonly html: string;
  readonly charts: readonly Chart[];
}

/** Lays the page out while its pictures are still being drawn. @param made `drawing` has begun with the findings' charts */
export async function renderPage(
  {
    report,
    analysis,
    session,
    findings,
    drawing,
  }: {
    readonly report: Report;
    readonly analysis: Analysis;
    readonly session: Session;
    readonly findings: readonly Finding[];
    readonly drawing: Drawing;
  },
  page: Omit<PageOptions, 'series'>,
): Promise<Rendered> {
  drawing.draw(modelPicture(report, page.content));
  const fill = layPage(report, drawing.drafts, { ...page, series: seriesOf(analysis, session) });
  const conclusions = portraitConclusions(portraitParts(report, page.content));
  const charts = await drawing.finish((draft) => ({
    title: draft.title,
    desc: conclusions.get(draft.name) ?? conclusionOf(draft, report, findings),
  }));
  return { html: fill(charts), charts };
}

/** A chart read aloud states its conclusion: that of the finding it is evidence for, or of the whole report. */
function conclusionOf({ check }: { check: string | null }, report: Report, findings: readonly Finding[]): string {
  const at = findings.findIndex((finding) => finding.check === check);
  return report.findings[at]?.title ?? report.summary.answer;
}
