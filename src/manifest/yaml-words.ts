/** What is said of text that is not YAML: what stands there and what to write, in place of the parser's own terms. */
import { plainText } from '../base/shown.ts';

/**
 * @param code the parser's
 * @param written the line that it points at
 * @param next the line below that
 */
export function yamlMessage(code: string, message: string, written: string, next: string): string {
  switch (code) {
    case 'TAB_AS_INDENT':
      return 'A tab stands at the beginning of this line. Indent with spaces.';
    case 'DUPLICATE_KEY':
      return 'This key stands twice in the same group. Keep one of them.';
    case 'MULTIPLE_DOCS':
      return 'A second document begins here ("---"). Expected: one document.';
    case 'BLOCK_AS_IMPLICIT_KEY':
      return isDeeper(next, written) && !/:\s/.test(valueIn(written)) ? deeperMessage(next) : colonMessage(written);
    case 'BLOCK_IN_FLOW':
      return /;\s/.test(written) ? 'Within braces a comma parts the entries, not ";".' : colonMessage(written);
    case 'MULTILINE_IMPLICIT_KEY':
      return noKeyMessage(written, next);
    case 'BAD_DQ_ESCAPE':
      return 'Within double quotes "\\" has a meaning of its own. In a path write "/" in its place.';
    case 'BAD_SCALAR_START':
      return 'This text begins with a character that has a meaning of its own. Put it in quotes.';
    case 'UNEXPECTED_TOKEN':
      return 'Something stands behind the end of this text, as where a quotation mark ends it too soon. Put text that holds one kind of quotation mark in the other.';
    case 'MISSING_CHAR':
      return /quote/.test(message) ? 'A quotation mark is opened and not closed.' : noKeyMessage(written, next);
    case 'BAD_INDENT': {
      if (/same column/.test(message)) return SAME_COLUMN;
      const missing = /end with a ([}\]])/.exec(message)?.[1];
      return missing
        ? `"${missing}" is missing: what is opened above is not closed before this line.`
        : notReadable(message);
    }
    default:
      return notReadable(message);
  }
}

const SAME_COLUMN =
  'This line is indented otherwise than the keys of its group. The keys of a group begin in the same column.';
const notReadable = (message: string) => `Not readable as YAML: ${plainText(message)}`;
const valueIn = (written: string) => /^[\s-]*\w+:\s+(.*)$/.exec(written)?.[1] ?? '';
const indentOf = (line: string) => /^ */.exec(line)?.[0].length ?? 0;
const isDeeper = (next: string, written: string) => next.trim() !== '' && indentOf(next) > indentOf(written);

const deeperMessage = (next: string) =>
  `The line below, ${plainText(next.trim())}, is indented further, as if it belonged to this one. The keys of a group begin in the same column.`;

function noKeyMessage(written: string, next: string): string {
  const [, key, value] = /^[\s-]*([\w]+):(\S.*)$/.exec(written) ?? [];
  if (key !== undefined) return `A space belongs behind the colon: ${plainText(`${key}: ${value}`)}`;
  if (isDeeper(next, written)) return deeperMessage(next);
  return 'This line has no key. Expected: a key, a colon, a space and its value, such as title: Flat after a weekend.';
}

/** A colon and a space within text begin a value of their own. */
function colonMessage(written: string): string {
  const [, key, value = ''] = /^[\s-]*([\w]+):\s+(.*\S)\s*$/.exec(written) ?? [];
  const example =
    key === undefined || /^[{["'|>]/.test(value)
      ? 'title: "Flat: again"'
      : `${key}: "${value.replace(/["\\]/g, '\\$&')}"`;
  return `Text that holds a colon and a space stands in quotes, such as ${plainText(example)}`;
}
