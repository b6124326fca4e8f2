/** Logs as the page was given them: in the order of the file as a stream, elsewhere by windows. */
import type { LogIo } from '../log/files/io.ts';
import { DATA } from './data.ts';
import { asRefusal, type Given, missing, ROOT } from './files.ts';
import { gunzip } from './gunzip.ts';
import type { Hash } from './hash.ts';

/** Single reads of a browser cost a millisecond and more, however small they are. */
const WINDOW = 1 << 20;
/** Bytes that the stream is asked for at once. */
const PIECE = 1 << 20;

/** @param mayReadOn resolves when so little waits for others that more may be read */
export function ioOf(given: readonly Given[], hash: Hash, mayReadOn: () => Promise<void> = async () => {}): LogIo {
  const files = new Map(given.map(({ path, file }) => [`${ROOT}/${path}`, file]));
  return {
    gunzip: waiting(gunzip, mayReadOn),
    plainRows: new WebAssembly.Module(Uint8Array.from(atob(DATA.plainRows), (sign) => sign.charCodeAt(0))),
    async open(path) {
      const file = files.get(path) ?? missing(path);
      const window = windowsOf(file);
      let stream: InOrder | undefined;
      let sum: ReturnType<Hash> | undefined;
      return {
        stat: async () => ({ size: file.size, mtimeMs: file.lastModified ?? 0 }),
        async read(buffer, length, position) {
          await sum?.ready();
          await mayReadOn();
          try {
            // A file is read in order from the moment that its checksum is taken.
            if (position === 0 && sum) {
              await stream?.stop();
              stream = inOrder(file);
            }
            if (stream?.at() === position) return await stream.read(buffer.subarray(0, length));
            return await window(buffer.subarray(0, length), position);
          } catch (error) {
            return asRefusal(error);
          }
        },
        checksum() {
          sum = hash(file.size);
          return sum;
        },
        close: async () => stream?.stop(),
      };
    },
  };
}

interface InOrder {
  /** Where the next read begins. */
  at(): number;
  read(into: Uint8Array): Promise<number>;
  stop(): Promise<void>;
}

/**
 * A stream into one and the same memory takes a fifth of the time that slices of a file take; undefined where a browser has none.
 */
function inOrder(file: Blob): InOrder | undefined {
  let reader: ReadableStreamBYOBReader;
  try {
    reader = file.stream().getReader({ mode: 'byob' });
  } catch (error) {
    if (error instanceof TypeError) return undefined;
    throw error;
  }
  let position = 0;
  let memory = new ArrayBuffer(PIECE);
  let rest = new Uint8Array(0);
  return {
    at: () => position,
    async read(into) {
      let n = 0;
      while (n < into.length) {
        if (rest.length === 0) {
          const { value, done } = await reader.read(new Uint8Array(memory));
          if (done || !value) break;
          rest = value;
        }
        const part = rest.subarray(0, into.length - n);
        into.set(part, n);
        n += part.length;
        rest = rest.subarray(part.length);
        if (rest.length === 0) memory = rest.buffer;
      }
      position += n;
      return n;
    },
    stop: () => reader.cancel(),
  };
}

/** Reads anywhere in a file; what is read for a small piece is kept. */
function windowsOf(file: Blob): (into: Uint8Array, position: number) => Promise<number> {
  const bytesOf = async (from: number, length: number) =>
    new Uint8Array(await file.slice(from, from + length).arrayBuffer());
  let from = 0;
  let held = new Uint8Array(0);
  return async (into, position) => {
    if (into.length >= WINDOW) {
      const bytes = await bytesOf(position, into.length);
      into.set(bytes);
      return bytes.length;
    }
    if (position < from || position >= from + held.length) {
      from = position;
      held = await bytesOf(from, WINDOW);
    }
    const part = held.subarray(position - from, position - from + into.length);
    into.set(part);
    return part.length;
  };
}

/** Waits after each piece until more may be read: a little that is packed can become a great deal. */
function waiting(gunzip: LogIo['gunzip'], mayReadOn: () => Promise<void>): LogIo['gunzip'] {
  return async function* (packed, enough) {
    const pieces = gunzip(packed, enough);
    for (;;) {
      const { done, value } = await pieces.next();
      if (done) return value;
      yield value;
      await mayReadOn();
    }
  };
}
