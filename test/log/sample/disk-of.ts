import type { LogIo } from '../../../src/log/files/io.ts';
import { diskIo, sha256 } from '../../../src/node/disk-io.ts';

/** A disk whose every file holds these bytes. */
export const diskOf = (bytes: Uint8Array): LogIo => ({
  ...diskIo,
  open: async () => ({
    stat: async () => ({ size: bytes.length, mtimeMs: 0 }),
    read: async (buffer, length, position) => {
      const part = bytes.subarray(position, position + length);
      buffer.set(part);
      return part.length;
    },
    checksum: sha256,
    close: async () => {},
  }),
});
