/** What the parts of the page know of each other. */
import type { State } from './state.ts';
import type { DeskWords } from './words.ts';

/** A part of the page; `show` brings it up to date. */
export interface Part {
  readonly root: HTMLElement;
  show(): void;
}

export interface Desk {
  readonly state: State;
  readonly words: DeskWords;
  /** New files, in place of those before. */
  bring(files: readonly File[]): Promise<void>;
  /** Another text of `session.yaml`. */
  write(manifest: string): void;
  /** Everything as it stands; `session.yaml` among them. */
  filesToRead(): readonly File[];
}
