/** The files that summaries are kept in, as text. */
import type { Summary } from './summary.ts';

/** Folder in the archive. */
export const STORE = '.summaries';
/** `STORE/0.json` and so on: a change of one session rewrites one of these. */
export const SHARDS = '0123456789abcdef';

export interface Stamp {
  readonly bytes: number;
  readonly mtimeMs: number;
  readonly ctimeMs: number;
}

export interface Entry {
  readonly folder: string;
  readonly stamp: Stamp;
  /** Of `report.json`; pages are made anew where it has changed. */
  readonly sha256: string;
  readonly summary: Summary;
}

/** The first line of each, with the key of everything that decides how a summary is made. */
export const headOf = (key: string) => `${JSON.stringify({ schema: 'standstill-summaries/1', key })}\n`;

/** None of a text that is not whole, or was kept under another key. */
export function entriesIn(text: string, key: string): readonly Entry[] {
  const head = headOf(key);
  if (!text.startsWith(head)) return [];
  try {
    return JSON.parse(text.slice(head.length)) as Entry[];
  } catch {
    return [];
  }
}
