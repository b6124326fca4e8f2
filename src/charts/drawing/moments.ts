/** What people wrote down and photographed while the logger was fitted, numbered as the chart marks it and the page lists it. */
import type { Note, Photo } from '../../manifest/session.ts';

export interface Moment {
  readonly number: number;
  /** UTC, ms since the epoch. */
  readonly atMs: number;
  readonly text: string | null;
  /** The photo's path; null for a note. */
  readonly photo: string | null;
  readonly atFrom: Photo['atFrom'] | null;
}

/** In order of time; photos without a time have no number. */
export function momentsOf(notes: readonly Note[], photos: readonly Photo[]): Moment[] {
  const written = notes.map(({ atMs, text }) => ({ atMs, text, photo: null, atFrom: null }));
  const taken = photos.flatMap(({ file, atMs, atFrom = null, text = null }) =>
    atMs === undefined ? [] : [{ atMs, text, photo: file, atFrom }],
  );
  return [...written, ...taken].sort((a, b) => a.atMs - b.atMs).map((moment, k) => ({ number: k + 1, ...moment }));
}
