/** What the page knows. What was typed outlives it, where the browser keeps such things. */
import type { LogSample } from '../../log/sample/sample.ts';
import type { BuiltFile } from '../api.ts';

export interface State {
  language: string;
  /** As chosen, without `session.yaml`. */
  files: readonly File[];
  /** The text of `session.yaml`; empty before there is any. */
  manifest: string;
  /** It came with the files. */
  own: boolean;
  sample: LogSample | null;
  /** First lines of the log. */
  head: readonly string[];
  /** Why the log was not understood. */
  refused: string | null;
  built: readonly BuiltFile[];
}

const KEY = 'standstill-desk';

export function recall(): Pick<State, 'manifest' | 'language'> | null {
  try {
    return JSON.parse(localStorage.getItem(KEY) ?? 'null');
  } catch {
    return null;
  }
}

export function remember({ manifest, language }: State): void {
  try {
    localStorage.setItem(KEY, JSON.stringify({ manifest, language }));
  } catch {
    // A browser that keeps nothing is no reason to stop.
  }
}
