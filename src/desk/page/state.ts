/** What the page knows. What was typed outlives it, where the browser keeps such things. */
import type { Problem } from '../../base/problem.ts';
import type { LogSample } from '../../log/sample/sample.ts';
import type { BuiltTree } from '../api.ts';
import type { ArchiveSource } from '../archive/folder.ts';

export interface ArchiveChoice {
  readonly name: string;
  readonly source: ArchiveSource;
  /** Sessions that have a report there. */
  readonly ids: readonly string[];
}

export interface State {
  language: string;
  /** The same, where its reader chose it. */
  chosen: string | null;
  /** As chosen, without `session.yaml`; a file's name is its path in the session's folder. */
  files: readonly File[];
  /** The text of `session.yaml`; empty before there is any. */
  manifest: string;
  /** What it was before it was begun anew or replaced, to be taken back. */
  before: string | null;
  /** It came with the files. */
  own: boolean;
  sample: LogSample | null;
  /** First lines of the log. */
  head: readonly string[];
  /** Why the log was not understood. */
  refused: readonly string[] | null;
  built: BuiltTree | null;
  /** Why the log could not be read with this manifest; until either changes. */
  unread: { readonly manifest: string; readonly problems: readonly Problem[] } | null;
  archive: ArchiveChoice | null;
  /** What was typed of the plan, by its key. */
  planned: Readonly<Record<string, string>>;
  /** A report is being made. */
  reading: boolean;
}

const KEY = 'standstill-desk';
interface Remembered extends Pick<State, 'manifest' | 'planned'> {
  readonly language: string | null;
}

export function recall(): Partial<Remembered> | null {
  try {
    const known: unknown = JSON.parse(localStorage.getItem(KEY) ?? 'null');
    return typeof known === 'object' ? known : null;
  } catch {
    return null;
  }
}

export function remember({ manifest, planned, chosen }: State): void {
  try {
    localStorage.setItem(KEY, JSON.stringify({ manifest, planned, language: chosen } satisfies Remembered));
  } catch {
    // A browser that keeps nothing is no reason to stop.
  }
}
