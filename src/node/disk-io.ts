/** The log reader's files on disk, and what Node unpacks and hashes faster than JavaScript does. */
import { createHash } from 'node:crypto';
import { readFileSync } from 'node:fs';
import { open } from 'node:fs/promises';
import { brotliDecompressSync, gunzipSync } from 'node:zlib';
import type { Checksum, LogIo } from '../log/files/io.ts';
import { gunzip } from './gunzip.ts';
import { PROJECT } from './project.ts';

/** Its digest is there at once. */
export interface QuickChecksum extends Checksum {
  digest(): string;
}

export function sha256(): QuickChecksum {
  const hash = createHash('sha256');
  return {
    update: (bytes) => {
      hash.update(bytes);
    },
    digest: () => hash.digest('hex'),
  };
}

/** The reader's quick way, as `npm run compile` made it. */
export const PLAIN_ROWS = new WebAssembly.Module(readFileSync(new URL('.build/plain-rows.wasm', PROJECT)));

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
  gunzip,
  plainRows: PLAIN_ROWS,
  unpackers: { GZIP: (packed) => gunzipSync(packed), BROTLI: (packed) => brotliDecompressSync(packed) },
};
