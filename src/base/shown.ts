/**
 * A value from outside, as a message may quote it: short, on one line, and without characters that move a terminal's
 * cursor or turn the direction of the text.
 */
export function shown(value: unknown): string {
  if (value === undefined || value === null) return 'nothing';
  if (Array.isArray(value)) return `a list of ${value.length}`;
  if (typeof value === 'object') return 'a group of keys';
  return typeof value === 'string' ? `"${plainText(value)}"` : plainText(String(value));
}

/** The same without quotes, for a name that stands within a path. */
export function plainText(text: string): string {
  const short = text.length > 60 ? `${text.slice(0, 59)}…` : text;
  // Control, format (bidirectional marks, zero-width), line and paragraph separators, lone surrogates.
  return short.replace(/[\p{Cc}\p{Cf}\p{Zl}\p{Zp}\p{Cs}]/gu, (char) => {
    if (char === '\n') return '\\n';
    return char === '\t' ? '\\t' : `\\u${(char.codePointAt(0) as number).toString(16).padStart(4, '0')}`;
  });
}

/** `a, b or c` */
export function orList(words: readonly string[]): string {
  return words.length < 2 ? words.join('') : `${words.slice(0, -1).join(', ')} or ${words[words.length - 1]}`;
}
