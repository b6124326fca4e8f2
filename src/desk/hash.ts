/** SHA-256 of files: small ones where they are read, large ones in a worker of their own, which reads them once more. */
import { sha256 } from '@noble/hashes/sha2.js';
import { bytesToHex } from '@noble/hashes/utils.js';
import type { Checksum } from '../log/files/io.ts';

/** A worker takes about as long to start as this takes to hash. */
const LARGE = 8 << 20;
const PIECE = 1 << 20;

/** @param elsewhere hashes a file in another worker */
export function checksumOf(elsewhere: (file: Blob) => Promise<string>): (file: Blob) => Checksum {
  return (file) => {
    if (file.size < LARGE) {
      const hash = sha256.create();
      return { update: (bytes) => void hash.update(bytes), digest: () => bytesToHex(hash.digest()) };
    }
    const hashed = elsewhere(file);
    // If nobody comes back for it, nobody wants to know.
    hashed.catch(() => {});
    return { update: () => {}, digest: () => hashed };
  };
}

/** In a worker. */
export function hashOfFile(file: Blob): string {
  const [hash, reader] = [sha256.create(), new FileReaderSync()];
  for (let at = 0; at < file.size; at += PIECE)
    hash.update(new Uint8Array(reader.readAsArrayBuffer(file.slice(at, at + PIECE))));
  return bytesToHex(hash.digest());
}
