import { lastOf, there } from './there.ts';

/**
 * The known word that `found` was probably meant to be, or undefined where none is near: at most a third of its letters
 * (and at least one edit) may differ. Letter case, and `-`, `_` or space between words, do not count as a difference.
 */
export function nearest(found: string, known: readonly string[]): string | undefined {
  const target = plain(found);
  if (target === '' || target.length > 64) return undefined;
  const limit = Math.max(1, Math.floor(target.length / 3));
  let best: string | undefined;
  let bestEdits = limit + 1;
  for (const word of known) {
    const edits = editDistance(target, plain(word));
    if (edits < bestEdits) {
      best = word;
      bestEdits = edits;
    }
  }
  return best;
}

function plain(word: string): string {
  return word.toLowerCase().replace(/[\s_-]+/g, '_');
}

const at = (row: readonly number[], k: number) => there(row[k]);

/** Insertions, deletions, substitutions and swaps of neighbours that turn `a` into `b` (optimal string alignment). */
export function editDistance(a: string, b: string): number {
  let beforeLast: number[] = [];
  let last = Array.from({ length: b.length + 1 }, (_, j) => j);
  for (let i = 1; i <= a.length; i++) {
    const row = [i];
    for (let j = 1; j <= b.length; j++) {
      const cost = a[i - 1] === b[j - 1] ? 0 : 1;
      row[j] = Math.min(at(last, j) + 1, at(row, j - 1) + 1, at(last, j - 1) + cost);
      const swapped = i > 1 && j > 1 && a[i - 1] === b[j - 2] && a[i - 2] === b[j - 1];
      if (swapped) row[j] = Math.min(at(row, j), at(beforeLast, j - 2) + 1);
    }
    beforeLast = last;
    last = row;
  }
  return lastOf(last);
}
