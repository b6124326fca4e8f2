/**
 * Sessions that were refused because of the session that they take their limits from, until that one has another report:
 * it may arrive later, be mended, or be built by somebody else who shares the archive.
 */
import { statSync } from 'node:fs';
import { join } from 'node:path';

export interface Awaited {
  readonly folder: string;
  /** The session whose report it waits for. */
  readonly baselineId: string;
}

export interface AwaitedReports {
  /** Remembers a refused session, and the report as it is at this moment. */
  await(one: Awaited): void;
  /** A session that is tried again, for whatever reason. */
  forget(folder: string): void;
  /** Those whose report is there and another than it was; they are forgotten. In order of refusal. */
  come(): Awaited[];
}

/** @param outDir the archive's folder */
export function createAwaitedReports(outDir: string): AwaitedReports {
  const waiting = new Map<string, Awaited & { readonly print: string }>();
  const printOf = ({ baselineId }: Awaited): string => {
    try {
      const at = statSync(join(outDir, 'sessions', baselineId, 'report.json'));
      return `${at.size}|${at.mtimeMs}`;
    } catch {
      // Not there, or the share is away: nothing has come.
      return '';
    }
  };
  return {
    await(one) {
      waiting.set(one.folder, { ...one, print: printOf(one) });
    },
    forget(folder) {
      waiting.delete(folder);
    },
    come() {
      const come = [...waiting.values()].filter((one) => ![one.print, ''].includes(printOf(one)));
      for (const { folder } of come) waiting.delete(folder);
      return come;
    },
  };
}
