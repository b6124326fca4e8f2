/** What the parts of the page know of each other. */
import type { ArchiveSource } from '../archive/folder.ts';
import type { Field, FieldList } from './form/fields.ts';
import type { Value } from './form/text.ts';
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
  /** More files; a whole session's folder takes the place of all before. */
  bring(files: readonly File[]): Promise<void>;
  remove(file: File): Promise<void>;
  /** Another text of `session.yaml`. */
  write(manifest: string): void;
  change(field: Field, value: Value): void;
  addItem(list: FieldList): void;
  removeItem(list: FieldList, at: number): void;
  /** An empty `session.yaml`; what was there can be taken back. */
  startAnew(): void;
  /** The archive that sessions are kept in, compared in, and take limits from. */
  useArchive(name: string, source: ArchiveSource): Promise<void>;
  /** Everything as it stands; `session.yaml` among them. */
  filesToRead(): readonly File[];
  /** Brings every part up to date. */
  show(): void;
}
