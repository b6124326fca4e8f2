/**
 * What a page of a PDF draws, line by line as Chromium's writer lays it down: an operator stands last on its line. Marked content
 * (ISO 32000-1, 14.6) is either a part of the document, under a number, or decoration, called an artifact.
 */

const PATH = /(?:^|\s)(?:m|l|c|v|y|h|re)$/;
const PAINT = /(?:^|\s)(?:f|F|f\*|B|B\*|b|b\*|S|s|sh|ET)$/;
const NO_PAINT = /(?:^|\s)n$/;
const DRAWN = /^\/(\S+) Do$/;
const NUMBER = /\/MCID (\d+)/;
const [ARTIFACT, END] = ['/Artifact BMC', 'EMC'];

/** Numbers of the marked parts that show text or another drawing. */
export function marksWithText(stream: string): Set<number> {
  const found = new Set<number>();
  const within: number[] = [];
  for (const line of stream.split('\n')) {
    if (/B[DM]C$/.test(line)) within.push(Number(NUMBER.exec(line)?.[1] ?? -1));
    else if (line === END) within.pop();
    else if (/T[jJ]$/.test(line) || DRAWN.test(line)) for (const number of within) found.add(number);
  }
  return found;
}

/**
 * The same drawing with everything marked: what stood outside is an artifact, and so are the parts under the numbers of
 * `decoration`. `isTagged` tells of a drawing within, by its name, that it is marked itself.
 *
 * Null where marks and text cross.
 */
export function marked(
  stream: string,
  decoration: ReadonlySet<number>,
  isTagged: (name: string) => boolean,
): string | null {
  const lines: string[] = [];
  let depth = 0;
  /** Where a path or a text that is outside of all marks begins, -1 where none does. */
  let open = -1;
  for (const line of stream.split('\n')) {
    if (/B[DM]C$/.test(line)) {
      const number = NUMBER.exec(line)?.[1];
      if (number !== undefined && open >= 0) return null;
      lines.push(number !== undefined && decoration.has(Number(number)) ? ARTIFACT : line);
      depth += 1;
      continue;
    }
    if (line === END) depth -= 1;
    if (depth < 0) return null;
    if (depth === 0 && open < 0 && (PATH.test(line) || line === 'BT')) open = lines.length;
    lines.push(line);
    if (depth > 0 || line === END) continue;
    const drawing = DRAWN.exec(line)?.[1];
    if (PAINT.test(line) || (drawing !== undefined && !isTagged(drawing))) {
      lines.splice(open < 0 ? lines.length - 1 : open, 0, ARTIFACT);
      lines.push(END);
    }
    if (PAINT.test(line) || NO_PAINT.test(line)) open = -1;
  }
  return depth === 0 && open < 0 ? lines.join('\n') : null;
}
