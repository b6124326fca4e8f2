/** Text in the terminal's width, below a label. */

/**
 * Lines of at most `columns` characters; the label stands before the first, the others are set in by its `width`. A word that is
 * longer than a line is not cut.
 */
export function wrap(text: string, columns: number, label: string, width: number): string[] {
  const room = Math.max(20, Math.min(columns, 120) - width - 1);
  const lines: string[] = [];
  // No-break spaces keep a number with its unit, so only plain ones part words.
  for (const word of text.split(/[ \n]+/)) {
    const last = lines.at(-1);
    if (last !== undefined && last.length + 1 + word.length <= room) lines[lines.length - 1] = `${last} ${word}`;
    else lines.push(word);
  }
  return lines.map((line, k) => `${(k === 0 ? label : '').padEnd(width)}${line}`);
}
