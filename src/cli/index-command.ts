/**
 * `standstill index`: the archive's pages again, from the reports that are there; also joins what was built apart. With
 * `--for`, a folder to hand out, with some of its sessions and nothing of the others.
 */
import { existsSync, statSync } from 'node:fs';
import { join } from 'node:path';
import { writeHandOut } from '../archive/hand-out.ts';
import { type IndexOptions, writeArchiveIndex } from '../archive/index-page.ts';
import { toolKey } from '../archive/made-from.ts';
import { tidy } from '../archive/tidy.ts';
import { withLock } from '../base/disk/lock.ts';
import { asWriteFault } from '../base/disk/write-fault.ts';
import { CallError, UserError } from '../base/problem.ts';
import { languagesThere, loadContent } from '../node/content.ts';
import { loadShop, shopKey } from '../node/shop.ts';
import { VERSION } from '../node/version.ts';
import { chooseLanguage } from '../report/words/languages.ts';
import { writeDesk } from './desk-page.ts';
import { tellWait } from './tell-wait.ts';
import type { Terminal } from './terminal.ts';

export interface IndexCommandOptions {
  /** The shop's, or English, where not named. */
  readonly language?: string;
  /** Ids of sessions, or registration or VIN of a vehicle, for a folder to hand out. */
  readonly for?: readonly string[];
  /** That folder. */
  readonly into?: string;
}

/** 0: every report is in the index; 1: at least one could not be read, each named. */
export async function index(out: string, options: IndexCommandOptions, terminal: Terminal): Promise<0 | 1> {
  if (!existsSync(out))
    throw new UserError(`There is no folder ${out}. Expected: the archive's folder, as "build" wrote it.`);
  if (statSync(out).isDirectory() && !existsSync(join(out, 'sessions')))
    throw new UserError(`${out} is no archive: it has no folder "sessions".`);
  const shop = loadShop(out);
  const content = loadContent(
    chooseLanguage({ asked: options.language, shop, there: languagesThere(shop?.content) }),
    shop?.content,
    shop?.templates,
  );
  const pages = { content, pageSize: shop?.pageSize ?? undefined };
  const keys = { tool: toolKey(VERSION), face: shopKey(shop) };
  if (options.for || options.into) return handOut(out, options, pages, terminal);
  const work = async () => {
    await tidy(out);
    await writeDesk(out, { version: VERSION, shop, keys, language: options.language });
    return writeArchiveIndex(out, { ...pages, key: keys.tool + keys.face, desk: true });
  };
  const { damaged } = await withLock(out, work, tellWait(out, terminal)).catch((error: unknown) => {
    throw asWriteFault(error, out);
  });
  for (const { folder, message } of damaged) terminal.err(`${folder}: ${message}\n`);
  return damaged.length > 0 ? 1 : 0;
}

async function handOut(
  out: string,
  { for: wanted, into }: IndexCommandOptions,
  pages: IndexOptions,
  terminal: Terminal,
): Promise<0> {
  if (!wanted || !into) throw new CallError('--for and --into go together: which sessions, and the folder for them.');
  // No build may replace a report while it is copied.
  const { sessions, named } = await withLock(
    out,
    () => writeHandOut(out, wanted, into, pages),
    tellWait(out, terminal),
  ).catch((error: unknown) => {
    throw asWriteFault(error, into);
  });
  for (const { session } of sessions) {
    const { description, registration, vin } = session.vehicle;
    terminal.err(`${session.id}: ${[description, registration ?? vin].filter(Boolean).join(', ')}\n`);
  }
  for (const one of named)
    terminal.err(`${one.in} took its limits from "${one.id}": that id stands in its report, and nothing else of it.\n`);
  terminal.out(`${join(into, 'index.html')}\n`);
  return 0;
}
