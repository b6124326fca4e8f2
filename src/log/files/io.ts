/** The part of the file system that the log reader needs, so that tests can hand in files of their own making. */
import { createHash } from 'node:crypto';
import { open } from 'node:fs/promises';

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
  digest(): string;
}

export interface LogIo {
  /** `path` is absolute. Rejects as `fs.open` does. */
  open(path: string): Promise<OpenFile>;
}

export function sha256(): Checksum {
  const hash = createHash('sha256');
  return {
    update: (bytes) => {
      hash.update(bytes);
    },
    digest: () => hash.digest('hex'),
  };
}

export const diskIo: LogIo = {
  async open(path) {
    const handle = await open(path, 'r');
    return {
      stat: () => handle.stat(),
      read: async (buffer, length, position) => (await handle.read(buffer, 0, length, position)).bytesRead,
      checksum: sha256,
      close: () => handle.close(),
    };
  },
};

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
