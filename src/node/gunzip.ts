import { createGunzip } from 'node:zlib';
import { ENDS_EARLY, IS_DAMAGED } from '../log/files/io.ts';

/** As `LogIo` asks for it. */
export async function* gunzip(packed: AsyncIterable<Uint8Array>): AsyncGenerator<Uint8Array, string | undefined> {
  // Damage loses what had not filled a piece of output: small pieces lose little.
  const unzip = createGunzip({ chunkSize: 1 << 14 });
  let ready: Uint8Array[] = [];
  let failure: Error | undefined;
  // Not piped and not iterated: a stream that fails throws away what it has not handed out yet.
  unzip.on('data', (bytes: Uint8Array) => ready.push(bytes));
  const ended = new Promise<void>((resolve) => {
    unzip.on('end', resolve);
    unzip.on('error', (error) => {
      failure = error;
      resolve();
    });
  });
  try {
    for await (const chunk of packed) {
      if (failure !== undefined) continue; // The rest is still read, for its checksum.
      // The chunk's buffer is used again by the reader, so the unzipper must be done with it before the next.
      await Promise.race([new Promise((resolve) => unzip.write(chunk, resolve)), ended]);
      const out = ready;
      ready = [];
      yield* out;
    }
    if (failure === undefined) unzip.end();
    await ended;
    yield* ready;
  } finally {
    unzip.destroy();
  }
  if (failure === undefined) return undefined;
  return 'code' in failure && failure.code === 'Z_BUF_ERROR' ? ENDS_EARLY : IS_DAMAGED;
}
