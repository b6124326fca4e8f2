/**
 * Text encodings of a log. The row reader works on bytes that agree with ASCII, so UTF-16 is written anew as UTF-8 on
 * the way in; UTF-8 and Latin-1 pass as they are and differ only where names and excerpts are shown.
 */
import { latin1 } from '../../base/bytes.ts';

export type Encoding = 'utf-8' | 'latin-1' | 'utf-16le' | 'utf-16be';

/** What the first bytes say. `bomBytes` are to be skipped. */
export function sniffEncoding(head: Uint8Array): { encoding: Encoding; bomBytes: number } {
  if (head[0] === 0xef && head[1] === 0xbb && head[2] === 0xbf) return { encoding: 'utf-8', bomBytes: 3 };
  if (head[0] === 0xff && head[1] === 0xfe) return { encoding: 'utf-16le', bomBytes: 2 };
  if (head[0] === 0xfe && head[1] === 0xff) return { encoding: 'utf-16be', bomBytes: 2 };
  const wide = wideWithoutMark(head);
  if (wide !== undefined) return { encoding: wide, bomBytes: 0 };
  return { encoding: isUtf8(head) ? 'utf-8' : 'latin-1', bomBytes: 0 };
}

/** UTF-16 of mostly ASCII text has a zero in every other byte; binary garbage has zeros in both or neither. */
function wideWithoutMark(head: Uint8Array): Encoding | undefined {
  const pairs = Math.min(head.length, 4096) >> 1;
  if (pairs < 4) return undefined;
  let evenZeros = 0;
  let oddZeros = 0;
  for (let k = 0; k < pairs; k++) {
    if (head[2 * k] === 0) evenZeros++;
    if (head[2 * k + 1] === 0) oddZeros++;
  }
  if (oddZeros > 0.9 * pairs && evenZeros < 0.02 * pairs) return 'utf-16le';
  if (evenZeros > 0.9 * pairs && oddZeros < 0.02 * pairs) return 'utf-16be';
  return undefined;
}

function isUtf8(bytes: Uint8Array): boolean {
  try {
    // `stream` lets a character be cut off at the end of the head.
    new TextDecoder('utf-8', { fatal: true }).decode(bytes, { stream: true });
    return true;
  } catch {
    return false;
  }
}

const utf8 = new TextDecoder('utf-8', { ignoreBOM: true });

/** Text of bytes that have come through `recode`. */
export function textOf(bytes: Uint8Array, encoding: Encoding): string {
  return encoding === 'latin-1' ? latin1(bytes) : utf8.decode(bytes);
}

export interface Recoder {
  /** The same text as bytes that agree with ASCII. May give the bytes that it was given. */
  next(bytes: Uint8Array): Uint8Array;
  /** What was held back of a character cut in two; the end of the file. */
  end(): Uint8Array;
}

export function recoder(encoding: Encoding): Recoder {
  if (encoding === 'utf-8' || encoding === 'latin-1') return { next: (bytes) => bytes, end: () => new Uint8Array(0) };
  const decoder = new TextDecoder(encoding, { ignoreBOM: true });
  const encoder = new TextEncoder();
  return {
    next: (bytes) => encoder.encode(decoder.decode(bytes, { stream: true })),
    end: () => encoder.encode(decoder.decode()),
  };
}
