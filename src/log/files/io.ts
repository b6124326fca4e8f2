/** What the log reader needs of the place where it runs. */
import type { Compressors } from 'hyparquet';

export interface LogIo {
  /** `path` is below the session's folder. Rejects with an error that has a `code` where it cannot be opened. */
  open(path: string): Promise<OpenFile>;
  /**
   * Unzips chunk by chunk, and keeps everything that came out before a damaged or missing end: a card pulled out of a
   * logger leaves a torn file with good rows in it. Returns what was wrong, in words, or undefined. No more is unpacked
   * than is asked for, and nothing once there is `enough`; what is packed is still read then, for its checksum.
   */
  gunzip(packed: AsyncIterable<Uint8Array>, enough?: () => boolean): AsyncGenerator<Uint8Array, string | undefined>;
  /** `assembly/plain-rows.ts`, compiled. */
  readonly plainRows: WebAssembly.Module;
  /** Packings of Parquet that this place unpacks faster than JavaScript does. */
  readonly unpackers?: Compressors;
}

export interface OpenFile {
  stat(): Promise<{ readonly size: number; readonly mtimeMs: number }>;
  /** Reads up to `length` bytes at `position` into the start of `buffer`; gives the number read, 0 at the end. */
  read(buffer: Uint8Array, length: number, position: number): Promise<number>;
  /** Over the file's bytes as they are read, from its start. */
  checksum(): Checksum;
  close(): Promise<void>;
}

/** SHA-256, in hex. */
export interface Checksum {
  update(bytes: Uint8Array): void;
  digest(): string | Promise<string>;
}

/** What `gunzip` says of a file whose end is missing, and of one whose bytes are wrong. */
export const ENDS_EARLY = 'the gz file ends too early';
export const IS_DAMAGED = 'the gz file is damaged: what follows could not be unpacked';

/** Fills `buffer` from `position` on, however little single reads give; the number of bytes, fewer only at the end. */
export async function readFully(file: OpenFile, buffer: Uint8Array, position: number): Promise<number> {
  let done = 0;
  while (done < buffer.length) {
    const n = await file.read(buffer.subarray(done), buffer.length - done, position + done);
    if (n === 0) break;
    done += n;
  }
  return done;
}
