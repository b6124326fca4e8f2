/** SHA-256 of the page, in WebAssembly, against the examples of the standard and against Node's own at every kind of end. */
import { createHash } from 'node:crypto';
import { readFileSync } from 'node:fs';
import { beforeAll, expect, it } from 'vitest';
import type { Checksum } from '../../src/log/files/io.ts';

// Its types are those of a browser, which no test has.
const FILE: string = new URL('../../src/desk/hash.ts', import.meta.url).href;

let createSha256: () => Checksum;
beforeAll(async () => {
  const sha256 = readFileSync(new URL('../../.build/sha256.wasm', import.meta.url)).toString('base64');
  Object.assign(globalThis, { STANDSTILL_DATA: { sha256 } });
  ({ createSha256 } = await import(FILE));
});

function hashed(...parts: Uint8Array[]) {
  const hash = createSha256();
  for (const part of parts) hash.update(part);
  return hash.digest();
}

// NIST, "Cryptographic Standards and Guidelines, Examples with Intermediate Values", SHA-256 (for FIPS 180-4); and the long message of FIPS 180-2, B.3.
it.each([
  ['abc', 'ba7816bf8f01cfea414140de5dae2223b00361a396177a9cb410ff61f20015ad'],
  [
    'abcdbcdecdefdefgefghfghighijhijkijkljklmklmnlmnomnopnopq',
    '248d6a61d20638b8e5c026930c3e6039a33ce45964ff2167f6ecedd419db06c1',
  ],
  ['a'.repeat(1e6), 'cdc76e5c9914fb9281a1c7e284d73e67f1809a48a497200e046d39ccc7112cd0'],
])('an example of the standard, %#', (text, hash) => {
  expect(hashed(new TextEncoder().encode(text))).toBe(hash);
});

const bytes = Uint8Array.from({ length: 2_500_000 }, (_, k) => (k * k + 7 * k) >> 3);
it.each([0, 1, 55, 56, 63, 64, 65, 119, 120, 128, 1_048_575, 1_048_576, 1_048_577, 2_500_000])(
  '%i bytes, whole and in parts',
  (length) => {
    const own = bytes.subarray(0, length);
    const theirs = createHash('sha256').update(own).digest('hex');
    expect(hashed(own)).toBe(theirs);
    const parts = Array.from({ length: Math.ceil(length / 70_001) }, (_, k) =>
      own.subarray(k * 70_001, (k + 1) * 70_001),
    );
    expect(hashed(...parts)).toBe(theirs);
  },
);
