/** `standstill tables`: the archive as Parquet, for whatever asks questions of many sessions. */

import { writeTables } from '../archive/tables.ts';
import { withLock } from '../base/disk/lock.ts';
import { asWriteFault } from '../base/disk/write-fault.ts';
import { tellWait } from './tell-wait.ts';
import type { Terminal } from './terminal.ts';

/** 0: every session is in the tables; 1: at least one report could not be read, each named. */
export async function tables(options: { readonly out: string }, terminal: Terminal): Promise<0 | 1> {
  const { folder, archive } = await withLock(
    options.out,
    () => writeTables(options.out),
    tellWait(options.out, terminal),
  ).catch((error: unknown) => {
    throw asWriteFault(error, options.out);
  });
  for (const one of archive.damaged) terminal.err(`${one.folder}: ${one.message}\n`);
  terminal.out(`${folder}\n`);
  return archive.damaged.length > 0 ? 1 : 0;
}
