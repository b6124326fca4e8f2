/** For entries that are known to be there; the compiler only knows that an index may point past the end. */

/** The value itself. A gap is a bug of ours, and is told as one. */
export function there<T>(value: T | undefined): T {
  if (value === undefined) throw new Error('an entry is missing that is always there');
  return value;
}

/** The last of a list that holds at least one. */
export function lastOf<T>(list: readonly T[]): T {
  return there(list[list.length - 1]);
}
