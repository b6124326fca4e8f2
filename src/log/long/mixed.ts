/** A column that holds several quantities, told apart by words in another: a log with a row for each value. */
import { median } from '../../battery/statistics.ts';
import { unitOf } from '../rows/unit-in-name.ts';

/** Values of one quantity and of another differ by more than this factor. A state beside a voltage moves it by less. */
const APART = 3;
const LEAST_ROWS = 2;
const QUANTITIES = [
  /volt|spannung|tension/i,
  /curr|amp(s|ere)|strom|courant/i,
  /temp/i,
  /rpm|speed|drehzahl|geschw/i,
] as const;
const MOST_WORDS = 200;

export interface Mixed {
  /** 0-based index of the column of words. */
  readonly by: number;
  /** The most frequent first. */
  readonly groups: readonly { readonly word: string; readonly middle: number; readonly rows: number }[];
}

/**
 * @param rows cells of the first rows
 * @param values numbers of the column in question, NaN where a cell is none
 * @param others columns that may hold the words
 */
export function mixedBy(
  rows: readonly (readonly string[])[],
  values: ArrayLike<number>,
  others: readonly number[],
): Mixed | undefined {
  const found = others.flatMap((by): Mixed[] => {
    const groups = groupsOf(rows, values, by);
    if (groups === undefined) return [];
    const named = QUANTITIES.filter((words) => groups.some(({ word }) => words.test(word)));
    const units = new Set(groups.map(({ word }) => unitOf(word)));
    if (named.length > 1 || (units.size > 1 && !units.has(undefined))) return [{ by, groups }];
    const sizes = groups.map(({ middle }) => Math.abs(middle)).filter((size) => size > 0);
    return Math.max(...sizes) > APART * Math.min(...sizes) ? [{ by, groups }] : [];
  });
  // Units and kinds repeat where names do not.
  return found.sort((a, b) => b.groups.length - a.groups.length)[0];
}

function groupsOf(
  rows: readonly (readonly string[])[],
  values: ArrayLike<number>,
  by: number,
): Mixed['groups'] | undefined {
  const groups = new Map<string, number[]>();
  for (const [k, row] of rows.entries()) {
    const word = (row[by] ?? '').trim();
    // A number beside a number is another reading.
    if (word === '' || /^[+-]?[\d.,]+$/.test(word)) return undefined;
    const value = values[k] ?? Number.NaN;
    if (Number.isNaN(value)) continue;
    const group = groups.get(word) ?? [];
    group.push(value);
    groups.set(word, group);
    if (groups.size > MOST_WORDS) return undefined;
  }
  const large = [...groups].filter(([, group]) => group.length >= LEAST_ROWS);
  if (large.length < 2 || rows.length < 2 * groups.size) return undefined;
  return large
    .map(([word, group]) => ({ word, middle: median(group), rows: group.length }))
    .sort((a, b) => b.rows - a.rows);
}
