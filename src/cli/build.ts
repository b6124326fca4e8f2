/** `standstill build`: analyses sessions, writes their reports and brings the archive's index up to date. */
import { basename, join, resolve } from 'node:path';
import { writeArchiveIndex } from '../archive/index-page.ts';
import { UserError } from '../manifest/problem.ts';
import { makeReport } from '../report/make-report.ts';
import { writeReport } from '../report/write-report.ts';
import { failureText } from './failure.ts';
import { createLazyPrinter, type LazyPrinter } from './lazy-printer.ts';
import { createProgress, type Progress } from './progress.ts';
import type { Terminal } from './terminal.ts';
import { VERSION } from './version.ts';

export interface BuildOptions {
  readonly out: string;
  readonly pdf: boolean;
  readonly page: 'a4' | 'letter';
  readonly redact: boolean;
  readonly jobs: number;
  readonly browser?: string;
  readonly quiet?: boolean;
}

/** 0: every session has its report; 1: at least one has not, each named. */
export async function build(folders: readonly string[], options: BuildOptions, terminal: Terminal): Promise<0 | 1> {
  const printer = options.pdf ? createLazyPrinter(options.browser) : null;
  const waiting = [...folders];
  const seen = new Map<string, string>();
  let failed = 0;
  const work = async () => {
    for (let folder = waiting.shift(); folder !== undefined; folder = waiting.shift()) {
      const progress = createProgress(terminal, basename(resolve(folder)));
      try {
        const page = await buildOne(folder, options, printer, progress, seen);
        progress.clear();
        if (!options.quiet) terminal.out(`${page}\n`);
      } catch (error) {
        failed++;
        progress.clear();
        terminal.err(failureText(error, folder));
      }
    }
  };
  await Promise.all(Array.from({ length: Math.max(1, Math.min(options.jobs, folders.length)) }, work));
  await printer?.close();
  if (printer?.refused) terminal.err(`No PDF was written: ${printer.refused.message}\n`);
  const archive = await writeArchiveIndex(options.out, { pageSize: options.page });
  for (const { folder, message } of archive.damaged) terminal.err(`${folder}: ${message}\n`);
  if (failed > 0) terminal.err(`${failed} of ${folders.length} sessions could not be reported.\n`);
  return failed > 0 ? 1 : 0;
}

async function buildOne(
  folder: string,
  options: BuildOptions,
  printer: LazyPrinter | null,
  progress: Progress,
  seen: Map<string, string>,
): Promise<string> {
  const made = await makeReport(resolve(folder), {
    pageSize: options.page,
    language: 'en',
    redact: options.redact,
    version: VERSION,
    onProgress: progress.bytes,
  });
  const { id } = made.report.session;
  const other = seen.get(id);
  if (other !== undefined) {
    throw new UserError(`session.id "${id}" is also that of ${other}; each session of an archive needs its own.`);
  }
  seen.set(id, folder);
  if (printer) progress.say('printing the PDF');
  const pdf = await printer?.print(folder, made.html, options.page, made.endS * 1000);
  await writeReport(options.out, { ...made, pdf: pdf ?? undefined });
  return join(options.out, 'sessions', id, 'index.html');
}
