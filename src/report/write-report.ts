/** Writes a session's folder of the archive, whole or not at all. */
import { existsSync } from 'node:fs';
import { mkdir, mkdtemp, rename, rm, writeFile } from 'node:fs/promises';
import { join } from 'node:path';
import { UserError } from '../base/problem.ts';
import { idFault } from '../manifest/session-id.ts';
import type { Report } from './contract/report.ts';
import { csvTables } from './csv-tables.ts';
import { attachFile } from './pdf/pdf-attach.ts';

export interface ReportFiles {
  readonly report: Report;
  /** `index.html`, from `layPage`. */
  readonly html: string;
  /** Vega-Lite specs with their data. */
  readonly charts: readonly { readonly name: string; readonly spec: object }[];
  /** Left out where there is no browser to print with. */
  readonly pdf?: Uint8Array;
}

/**
 * Writes `OUT/sessions/ID/…` and returns that folder. Everything is written beside it first and takes its place by
 * renaming, so that a build that fails leaves the earlier report whole; one that is stopped between the two renames is
 * put right by the next. Throws a `UserError` where the name cannot be a folder's, or the folder cannot be replaced.
 */
export async function writeReport(outDir: string, files: ReportFiles): Promise<string> {
  const { id } = files.report.session;
  const fault = idFault(id);
  if (fault) throw new UserError(`The session's id cannot be a folder's name. ${fault}`);
  const sessions = join(outDir, 'sessions');
  const target = join(sessions, id);
  const earlier = join(sessions, `.${id}.old`);
  await mkdir(sessions, { recursive: true });
  if (existsSync(earlier) && !existsSync(target)) await rename(earlier, target);
  const workshop = await mkdtemp(join(sessions, `.${id}.new-`));
  try {
    // A folder within: the outer one is readable by its owner alone, which would shut others out of a file share.
    const fresh = join(workshop, id);
    await mkdir(fresh);
    await writeAll(fresh, files);
    await swap(fresh, target, earlier);
  } finally {
    await rm(workshop, { recursive: true, force: true });
  }
  return target;
}

async function writeAll(folder: string, { report, html, charts, pdf }: ReportFiles): Promise<void> {
  await mkdir(join(folder, 'charts'));
  await mkdir(join(folder, 'tables'));
  for (const { name, spec } of charts) await writeFile(join(folder, 'charts', `${name}.vl.json`), json(spec));
  for (const [name, text] of csvTables(report)) await writeFile(join(folder, 'tables', name), text);
  const data = json(report);
  await writeFile(join(folder, 'report.json'), data);
  if (pdf) await writeFile(join(folder, 'report.pdf'), withData(pdf, data, Date.parse(report.log.end)));
  await writeFile(join(folder, 'index.html'), html);
}

/**
 * The PDF with `report.json` in it, so that the file alone holds what it was made from.
 *
 * @param dateMs ms since the epoch; the document's date
 */
export function withData(pdf: Uint8Array, data: string, dateMs: number): Uint8Array {
  const file = {
    name: 'report.json',
    description: 'standstill-report/1',
    type: 'application/json',
    data: Buffer.from(data),
    dateMs,
  } as const;
  return attachFile(pdf, file) ?? pdf;
}

/** Neither Windows nor POSIX renames a folder over a full one: the earlier one steps aside first. */
async function swap(fresh: string, target: string, earlier: string): Promise<void> {
  await rm(earlier, { recursive: true, force: true });
  try {
    if (existsSync(target)) await rename(target, earlier);
    await rename(fresh, target);
  } catch (error) {
    if (existsSync(earlier) && !existsSync(target)) await rename(earlier, target);
    const why = error instanceof Error ? error.message : String(error);
    throw new UserError(
      `${target} could not be replaced; is one of its files open in another program? The earlier report is still there. (${why})`,
    );
  }
  await rm(earlier, { recursive: true, force: true });
}

function json(value: unknown): string {
  return `${JSON.stringify(value, null, 1)}\n`;
}
