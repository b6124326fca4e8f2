/**
 * Standstill for other programs: the steps of the street, one by one, with what goes from each to the next. All quantities are
 * SI; times are seconds since the epoch (UTC) but in `Report`, which has ISO 8601; current is positive into the battery.
 *
 * What a user can mend is thrown as `UserError`, with a `Problem` (file, line, column, what was found and what is expected) for
 * each fault. Anything else that is thrown is a bug.
 */
import { createAnalyser } from './analysis/analyse.ts';
import type { Analysis } from './analysis/model.ts';
import { nodeFiles } from './base/disk/node-files.ts';
import { beginDrawing } from './charts/charts.ts';
import type { Finding } from './checks/check.ts';
import type { LogAccount, SampleBlock } from './log/block.ts';
import { readSession as readManifest, resolveLogFiles } from './manifest/read-session.ts';
import type { Session } from './manifest/session.ts';
import { loadContent } from './node/content.ts';
import { startDrawer } from './node/drawer.ts';
import { readLogs } from './node/make-report.ts';
import { readLogFiles } from './node/read-log-files.ts';
import { VERSION } from './node/version.ts';
import { buildReport as build } from './report/build-report.ts';
import type { Report } from './report/contract/report.ts';
import { type Rendered, renderPage as render } from './report/make-report.ts';
import { isShown } from './report/page/view-findings.ts';
import { readPhotos } from './report/pictures/photos.ts';
import type { Content } from './report/words/content.ts';

export type { Analyser } from './analysis/analyse.ts';
export type * from './analysis/model.ts';
export { type Problem, UserError } from './base/problem.ts';
export type { Chart } from './charts/charts.ts';
export type { Answer, Check, Evidence, Finding, Status } from './checks/check.ts';
export { CHECKS } from './checks/registry.ts';
/** Every check's finding, in report order; a check that lacks its column, or that throws, is `undecided` and says why. */
export { runChecks } from './checks/run.ts';
export type { LogAccount, LogFault, SampleBlock } from './log/block.ts';
export type { Session } from './manifest/session.ts';
/** `report.json` as a zod schema: `ReportContract.parse(JSON.parse(text))` reads one, whatever version wrote it. */
export { type Report, ReportContract } from './report/contract/report.ts';
export type { Rendered } from './report/make-report.ts';
/** The files of a report's folder by their path: page, `report.json`, specs of the charts, tables as CSV. */
export { reportFiles } from './report/report-files.ts';
export type { Content } from './report/words/content.ts';

/**
 * `session.yaml` of a folder, whose logs and photos must be there; none of them is opened.
 *
 * Throws `UserError` with every fault of the manifest at once.
 */
export function readSession(folder: string): Session {
  return readManifest(folder, nodeFiles);
}

/**
 * The session's log as blocks in order of time, and at the end an account of everything that was wrong with its rows. The
 * arrays of a block (`t` s, `v` V, `i` A, `temp` °C, `ch` V; NaN where nothing was read; `n` rows) are used again afterwards.
 *
 * Throws `UserError` where a file cannot be opened or its form is not certain, and where none has a usable row.
 */
export function readLog(session: Session, onBlock: (block: SampleBlock) => void): Promise<LogAccount> {
  return readLogFiles({ session, files: resolveLogFiles(session, nodeFiles), onBlock });
}

/** Takes samples as they come: `push` each block in order of time, then `finish` once with the account. Its memory is bounded. */
export { createAnalyser };

/**
 * `readLog` and `createAnalyser` in one: tiles, periods, stands, wakes, cranks and drives of the whole log.
 *
 * Throws `UserError` as `readLog` does, and where readings cannot be of the unit or the day that the manifest says.
 */
export function analyse(session: Session): Promise<Analysis> {
  return readLogs(session);
}

/** Prose, labels, templates and fonts of a language, such as `en` or `de`; own folders come before the tool's. Throws `UserError` where one is missing. */
export function contentOf(
  language: string,
  own: { words?: readonly string[]; templates?: readonly string[] } = {},
): Content {
  return loadContent(language, own.words, own.templates);
}

export interface Judged {
  readonly session: Session;
  readonly analysis: Analysis;
  readonly findings: readonly Finding[];
}

/** `report.json`: what was found, in words and figures. Throws `UserError` where own prose asks for what a finding lacks. */
export function buildReport(judged: Judged, content: Content): Report {
  const { photos } = readPhotos(judged.session, nodeFiles);
  const session = { ...judged.session, photos };
  return build({ ...judged, session, content, language: content.language, version: VERSION });
}

/**
 * The report's page, whole in one file that refers to no network, and its charts as Vega-Lite specs.
 *
 * Throws `UserError` where an own template cannot be filled.
 */
export async function renderPage(
  report: Report,
  { session, analysis, findings }: Judged,
  content: Content,
  pageSize: 'a4' | 'letter' = 'a4',
): Promise<Rendered> {
  const drawing = beginDrawing({ analysis, session, words: content.words }, startDrawer());
  drawing.add(findings, (draft) => isShown(draft, findings));
  const { shown: photos } = readPhotos(session, nodeFiles);
  return render({ report, analysis, session, findings, drawing }, { pageSize, content, photos });
}
