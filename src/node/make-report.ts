/** The street from a session folder on disk, with Node's threads. */
import type { Analysis } from '../analysis/model.ts';
import { nodeFiles } from '../base/disk/node-files.ts';
import { resolveLogFiles } from '../manifest/read-session.ts';
import type { Session } from '../manifest/session.ts';
import {
  type Host,
  type MadeReport,
  makeReport as make,
  type ReportOptions,
  readLogs as read,
} from '../report/make-report.ts';
import type { Shop } from '../report/shop/shop.ts';
import { loadContent } from './content.ts';
import { startDrawer } from './drawer.ts';
import { needsThread, readLogFiles } from './read-log-files.ts';

export const NODE_HOST: Host = { files: nodeFiles, readLog: readLogFiles, drawer: startDrawer };

export const readLogs = (session: Session, onProgress?: ReportOptions['onProgress']): Promise<Analysis> =>
  read(session, NODE_HOST, onProgress);

/** As `makeReport` of `report/`, with the tool's own words and those of the shop. */
export async function makeReport(
  session: Session,
  options: Omit<ReportOptions, 'content'> & { readonly shop?: Shop | null },
): Promise<MadeReport> {
  const { language, shop } = options;
  // A second core has nothing to do while a short log is read.
  if (!needsThread({ session, files: resolveLogFiles(session, nodeFiles) })) startDrawer();
  const content = loadContent(language, shop?.content, shop?.templates);
  return make(session, NODE_HOST, { ...options, content });
}
